# held.R - of so many promises so many held ("HELD N"): prints what speaks against 8 in 10, or against a little more
#
# SPDX-License-Identifier: GPL-3.0-or-later
x <- scan(file("stdin"), quiet = TRUE)
p <- binom.test(x[1], x[2], 0.8)$p.value
if (x[2] < 1000 || (p < 0.001 && (x[1] < 0.8 * x[2] || x[1] > 0.85 * x[2])))
	cat(x[1], "of", x[2], "held, p", p, "\n")
