# charts.R - questions about control charts for print_stats with R's own answers behind '='; run lengths by package spc
#
# SPDX-License-Identifier: GPL-3.0-or-later
suppressMessages(library(spc))
set.seed(20310307)
say <- function(question, answer) cat(question, "=", format(answer, digits = 15, scientific = TRUE, trim = TRUE), "\n")
show <- function(x) format(x, digits = 15, trim = TRUE)

# self-starting values: Hawkins' definition, by pt and qnorm
for (n in c(5, 8, 20, 40)) {
	x <- round(rnorm(n, 19, 1.5) + c(rep(0, n %/% 2), rep(n %% 3, n - n %/% 2)), 2)
	for (floor in c(0, 2)) for (clip in c(0, 1.5)) {
		u <- c(0, 0)
		y <- x	# what counts for the level
		for (i in 3:n) {
			before <- y[1:(i - 1)]
			scale <- max(floor, sd(before)) * sqrt(i / (i - 1))
			u[i] <- qnorm(pt((x[i] - mean(before)) / scale, i - 2))
			if (clip > 0 && abs(u[i]) > clip) y[i] <- mean(before) + sign(u[i]) * scale * qt(pnorm(clip), i - 2)
		}
		say(paste(c("standard", floor, clip, show(x)), collapse = " "), u)
	}
}

# the Nile's yearly flow: its level fell once in a hundred years, after the 28th, 1898 (Cobb 1978, Biometrika 65:243)
say(paste(c("shift", show(as.vector(Nile))), collapse = " "), 29)

# mean run lengths: numerically exact, by Markov chains and integral equations
for (shift in c(0, 0.5, 1, 2, 3)) {
	say(paste("runs 0 0.5 5", shift, 0, if (shift == 0) 4000 else 10000), xcusum.arl(0.5, 5, shift, sided = "two"))
	say(paste("runs 0 0.5 4", shift, 0, if (shift == 0) 6000 else 10000), xcusum.arl(0.5, 4, shift, sided = "two"))
	say(paste("runs 1 0.2 3", shift, 0, if (shift == 0) 4000 else 10000), xewma.arl(0.2, 3, shift, sided = "two", limits = "vacl"))
	say(paste("runs 1 0.3 2.5", shift, 0, if (shift == 0) 6000 else 10000), xewma.arl(0.3, 2.5, shift, sided = "two", limits = "vacl"))
}
# steady and self-starting: the two first values never alarm, after them it is as if all had been known
say("runs 0 0.5 5 0 1 4000", 2 + xcusum.arl(0.5, 5, 0, sided = "two"))
say("runs 0 0.5 4 0 1 4000", 2 + xcusum.arl(0.5, 4, 0, sided = "two"))
