# compare.R - what exchanging one fact moves, reckoned from the numbers of the small rules by hand: chance before tasting = prior odds times the
# mean of the ratio over what the fact may be off by. Reads a line a case: VALUE_A U_A VALUE_B U_B BLAME_A BLAME_B; prints p_a, p_b, moves, matters.
#
# SPDX-License-Identifier: GPL-3.0-or-later
ratio <- function(x) exp(approx(c(-1, 1, 4), log(c(0.2, 1, 8)), x, rule = 2)$y)	# too-warm, by ferment.early-mean-over
# Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.10, n = 5
node <- c(-2.02018287045609, -0.958572464613819, 0, 0.958572464613819, 2.02018287045609)
weight <- c(0.0199532420590459, 0.393619323152241, 0.945308720482942, 0.393619323152241, 0.0199532420590459) / sqrt(pi)
chance <- function(value, u) plogis(qlogis(0.2) + log(sum(weight * ratio(value + sqrt(2) * u * node))))
for (line in readLines(file("stdin"))) {
	x <- as.numeric(strsplit(line, " ")[[1]])
	p <- c(chance(x[1], x[2]), chance(x[3], x[4]))
	moves <- abs(p[2] - p[1])
	cat(format(c(p, moves, moves * max(x[5], x[6])), digits = 12, scientific = TRUE), "\n")
}
