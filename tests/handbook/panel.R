# panel.R - questions about blind difference tests for print_stats with R's own answers behind '='
#
# SPDX-License-Identifier: GPL-3.0-or-later
say <- function(question, answer) cat(question, "=", format(answer, digits = 15, scientific = TRUE, trim = TRUE), "\n")
tests <- c(triangle = 1/3, duo = 1/2, pair = 1/2, preference = 1/2)
p_of <- function(t, k, n) if (t == 4) binom.test(k, n, 0.5)$p.value else binom.test(k, n, tests[t], alternative = "greater")$p.value

# The posterior by numerical integration over the share who can tell (of a preference: over the chance to prefer the one that has more).
belief <- function(t, k, n) {
	g <- tests[[t]]
	k <- if (t == 4) max(k, n - k) else k
	from <- if (t == 4) 0 else g
	f <- function(x) exp(dbinom(k, n, x, log = TRUE))
	area <- function(a, b) integrate(f, a, b, rel.tol = 1e-12, subdivisions = 2000L)$value
	all <- area(from, 1)
	odds <- all / (1 - from) / dbinom(k, n, g)
	mean <- integrate(function(x) x * f(x), from, 1, rel.tol = 1e-12, subdivisions = 2000L)$value / all
	at <- function(q) uniroot(function(x) area(x, 1) / all - q, c(from, 1), tol = 1e-13)$root
	c(odds / (1 + odds), (c(mean, at(0.9), at(0.1)) - g) / (1 - g))
}
for (t in 1:4) for (r in list(c(7, 12), c(8, 12), c(2, 12), c(0, 3), c(5, 5), c(13, 24), c(15, 30), c(1, 1), c(28, 60), c(60, 100)))
	say(paste("panel", t - 1, r[1], r[2]), c(p_of(t, r[1], r[2]), belief(t, r[1], r[2])))

# the fewest right answers, by asking binom.test for each number
fewest <- function(t, n, level) { k <- which(sapply(0:n, function(k) (t != 4 || 2 * k > n) && p_of(t, k, n) <= level)); if (length(k)) k[1] - 1 else 0 }
for (t in 1:4) for (n in c(1:12, 24, 60, 99))
	say(paste("enough", t - 1, n, "0.1 0.05 0.01 0.001"), sapply(c(0.1, 0.05, 0.01, 0.001), function(a) fewest(t, n, a)))

power <- function(t, n, level, share) { k <- fewest(t, n, level); if (k == 0) 0 else pbinom(k - 1, n, tests[[t]] + (1 - tests[[t]]) * share, lower.tail = FALSE) }
for (t in 1:4) for (n in c(4, 12, 30)) for (share in c(0, 0.25, 0.5, 1))
	say(paste("power", t - 1, n, 0.05, share), power(t, n, 0.05, share))
for (t in c(1, 2, 4)) for (share in c(0.5, 0.35)) for (level in c(0.1, 0.05)) {
	n <- 1
	while (power(t, n, level, share) < 0.8) n <- n + 1
	say(paste("tasters", t - 1, level, share, 0.8), n)
}
