# jags.R - the marginals of a network file (tests/unit/solve_net.c) by Gibbs sampling in JAGS: two chains of 200,000 seeded draws
#
# The model is stated with distribution functions of the maximum; a found fault is a "one" that comes with its probability.
# Prints "present I X" and "blame I X".
#
# SPDX-License-Identifier: GPL-3.0-or-later
suppressPackageStartupMessages(library(rjags))

lines <- sub("#.*", "", readLines(commandArgs(TRUE)[1]))
word <- strsplit(lines[grepl("[a-z]", lines)], "[ \t]+")
of <- function(kind) Filter(function(w) w[1] == kind, word)
prior <- sapply(of("cause"), function(w) as.numeric(w[2]))
fault <- of("fault")
n <- length(prior)
m <- length(fault)
how <- sapply(fault, `[`, 5)
value <- sapply(fault, function(w) as.numeric(w[6]))

# P(level <= g) for g = -1..3, of tails of levels 1..3
upto <- function(tail, g) if (g < 0) 0 else if (g >= 3) 1 else 1 - tail[g + 1]
# What a contributor leaves: up = not above what was seen, low = below it. An absent fault: not noticed, and 0.
up_of <- function(tail, f) switch(how[f], found = upto(tail, value[f]), absent = 1 - value[f] * tail[1], 1)
low_of <- function(tail, f) if (how[f] == "found") upto(tail, value[f] - 1) else 1
up <- low <- matrix(1, n, m)
reach <- matrix(0, n, m)
for (w in of("link")) {
	i <- as.numeric(w[2]) + 1
	f <- as.numeric(w[3]) + 1
	up[i, f] <- up_of(as.numeric(w[4:6]), f)
	low[i, f] <- low_of(as.numeric(w[4:6]), f)
	reach[i, f] <- how[f] == "found"
}
leak_up <- sapply(seq_len(m), function(f) up_of(as.numeric(fault[[f]][2:4]), f))
leak_low <- sapply(seq_len(m), function(f) if (how[f] == "found") low_of(as.numeric(fault[[f]][2:4]), f) else 0)

model <- "model {
	for (i in 1:n) { x[i] ~ dbern(prior[i]) }
	for (f in 1:m) {
		seen[f] <- leak_up[f] * prod(1 - x * (1 - up[, f])) - leak_low[f] * prod(1 - x * (1 - low[, f]))
		one[f] ~ dbern(seen[f])
	}
	for (i in 1:n) {
		for (f in 1:m) {
			others[i, f] <- leak_up[f] * prod(1 - but[i, ] * x * (1 - up[, f])) -
				leak_low[f] * prod(1 - but[i, ] * x * (1 - low[, f]))
			clean[i, f] <- ifelse(reach[i, f] > 0, low[i, f] * others[i, f] / seen[f], 1)
		}
		pushed[i] <- x[i] * (1 - prod(clean[i, ]))
	}
}"
data <- list(n = n, m = m, prior = prior, up = up, low = low, leak_up = leak_up, leak_low = leak_low, reach = reach,
	but = 1 - diag(n), one = rep(1, m))
# Start from a pattern that can give what was seen.
start <- function(seed) list(x = as.numeric(rowSums(reach) > 0), .RNG.name = "base::Mersenne-Twister", .RNG.seed = seed)
j <- jags.model(textConnection(model), data, list(start(20310307), start(20310308)), n.chains = 2, n.adapt = 1000, quiet = TRUE)
draws <- do.call(rbind, coda.samples(j, c("x", "pushed"), n.iter = 200000, progress.bar = "none"))
for (i in seq_len(n)) {
	cat("present", i - 1, format(mean(draws[, sprintf("x[%d]", i)]), digits = 10), "\n")
	cat("blame", i - 1, format(mean(draws[, sprintf("pushed[%d]", i)]), digits = 10), "\n")
}
