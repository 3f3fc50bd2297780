# urn.R - questions for print_urn with R's own answers behind '=': the models of held.h and revise.h as integrals over
# the unknown rate and share
#
# SPDX-License-Identifier: GPL-3.0-or-later
set.seed(20310308)
say <- function(question, answer) cat(question, "=", format(answer, digits = 15, scientific = TRUE, trim = TRUE), "\n")
show <- function(x) format(x, digits = 15, trim = TRUE)
# mean of f over a Beta density, by the logit: smooth where the density itself has poles
over <- function(f, a, b, tol = 1e-9) integrate(function(z)
	exp(a * plogis(z, log.p = TRUE) + b * plogis(-z, log.p = TRUE) - lbeta(a, b)) * f(plogis(z)),
	-Inf, Inf, rel.tol = tol, subdivisions = 500L)$value

held <- function(share, rate, ratio, with) {
	seen <- function(theta, e) {
		p <- 1
		for (i in seq_along(ratio)) {
			struck <- theta * (if (with[i]) 1 - e else 1)
			p <- p * (struck * ratio[i] + 1 - struck)
		}
		p
	}
	given <- Vectorize(function(e) over(function(theta) seen(theta, e), 2 * rate, 2 * (1 - rate), 1e-10))
	m <- sapply(0:2, function(k) over(function(e) e^k * given(e), 4 * share, 4 * (1 - share)))
	say(paste(c("held", show(share), show(rate), rbind(show(ratio), as.numeric(with))), collapse = " "),
	    c(m[2] / m[1], sqrt(m[3] / m[1] - (m[2] / m[1])^2)))
}
for (i in 1:6) {
	n <- 2 + i
	held(round(runif(1, 0.3, 0.7), 2), round(runif(1, 0.3, 0.7), 2), round(exp(rnorm(n, 0, 1.5)), 3), runif(n) < 0.5)
}
# batches that are sure, with a cause that always strikes otherwise: R's Beta by its own mean, (4 s + held) / (4 + all)
say("held 0.5 0.999999 1e9 0 1e9 0 1e9 1 1e9 1 1e9 1", c((4 * 0.5) / 7, sqrt(2 * 5 / (7^2 * 8))))

verdict <- function(rate, found, sign, strength, taken, leak) {
	there <- 1 - (1 - strength) * (1 - leak)
	tell <- function(p) 0.4 * found * p + (1 - found) * (1 - 0.4 * p)
	both <- sapply(c(TRUE, FALSE), function(culprit) over(Vectorize(function(theta) {
		with <- if (culprit) tell(there) else 1
		without <- if (culprit) tell(leak) else 1
		prod(theta * ((1 - taken) * sign * with + taken * without) + (1 - theta) * without)
	}), 2 * rate + culprit, 2 * (1 - rate)))
	say(paste(c("verdict", show(rate), rbind(found, show(sign), show(strength), show(taken), show(leak))), collapse = " "), both[1] / both[2])
}
for (i in 1:14) {
	n <- i
	verdict(round(runif(1, 0.05, 0.9), 2), rbinom(n, 1, 0.5), round(exp(rnorm(n, 0, 1)), 3), round(runif(n), 2),
	    round(runif(n) * rbinom(n, 1, 0.5), 2), round(runif(n, 0, 0.1), 3))
}
