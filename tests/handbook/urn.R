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

# the same by R's own distribution of a share: its mean is the area over pbeta; two of three held off, the rate all but sure
mean_of <- function(a, b) 1 - integrate(function(x) pbeta(x, a, b), 0, 1, rel.tol = 1e-12)$value
say("held 0.5 0.999999 1e9 0 1e9 0 1e9 1 1e-9 1 1e-9 1", c(mean_of(4, 3), sqrt(4 * 3 / (7^2 * 8))))
say("held 0.7 0.999999 1e9 0 1e9 0 1e9 1 1e9 1 1e9 1 1e9 1", c(mean_of(2.8, 1.2 + 4), sqrt(2.8 * 5.2 / (8^2 * 9))))

# a brewer who gets better (or worse) by and by: the log of how often it would come moves by an unknown step a batch, normal with
# 0.17 and taken every half deviation to four; the rate given is the mean over the batches
drift <- function(share, rate, ratio, place, with) {
	# logits of share and rate: the trapezoid of what is smooth and ends in nothing (slowly, for a rate that is all but sure)
	x <- seq(-25, 25, by = 0.2)
	y <- seq(-60, 250, by = 0.2)
	density <- function(x, a, b) exp(a * plogis(x, log.p = TRUE) + b * plogis(-x, log.p = TRUE) - lbeta(a, b))
	e <- matrix(plogis(x), length(x), length(y))
	theta <- matrix(plogis(y), length(x), length(y), byrow = TRUE)
	of <- function(z) {
		d <- 0.17 * z
		left <- exp(-d * (place - (if (d > 0) min(place) else max(place))))
		top <- min(rate / mean(left), max(rate, 0.95))
		p <- outer(density(x, 4 * share, 4 * (1 - share)), density(y, 2 * top, 2 * (1 - top)))
		for (i in seq_along(ratio)) p <- p * (1 + theta * left[i] * (if (with[i]) 1 - e else 1) * (ratio[i] - 1))
		vapply(0:2, function(k) sum(e^k * p), 0)
	}
	z <- seq(-4, 4, by = 0.5)
	m <- rowSums(vapply(z, function(z) dnorm(z) * of(z), numeric(3)))
	say(paste(c("drift", show(share), show(rate), rbind(show(ratio), place, as.numeric(with))), collapse = " "),
	    c(m[2] / m[1], sqrt(m[3] / m[1] - (m[2] / m[1])^2)))
}
drift(0.6, 0.3, c(30, 8, 12, 0.2, 0.1), 0:4, c(FALSE, FALSE, FALSE, TRUE, TRUE))
drift(0.4, 0.5, c(9, 0.3, 20, 0.1), c(0, 2, 5, 9), c(FALSE, TRUE, FALSE, TRUE))

# batches told apart by what they are: before and after something was seen of one, what was seen is so many times likelier with
# the cause; with the chance `tells` that speaks, else it is what such a batch shows on average; others leave `left` of the strikes
faded <- function(share, rate, before, after, tells, left, with) {
	ratio <- (after / (1 - after)) / (before / (1 - before))
	blank <- before * ratio + 1 - before
	one <- function(theta, e, i, struck) {      # chance of batch i, and of a strike that came or was to come in it
		came <- theta * left[i] * (if (with[i]) 1 - e else 1)
		shows <- function(yes) tells[i] * (if (yes) ratio[i] else 1) + (1 - tells[i]) * blank[i]
		if (struck == "all") came * shows(TRUE) + (1 - came) * shows(FALSE)
		# as held.h counts: with all that others keep off counted among what came, but looking as if nothing had
		else if (struck == "came") theta * (if (with[i]) 1 - e else 1) * (left[i] * shows(TRUE) + (1 - left[i]) * shows(FALSE))
		else theta * e * shows(FALSE)
	}
	n <- length(with)
	seen <- function(theta, e, part = 0, struck = "all") {
		p <- 1
		for (i in seq_len(n)) p <- p * one(theta, e, i, if (i == part) struck else "all")
		p
	}
	total <- function(f) over(Vectorize(function(e) over(function(theta) f(theta, e), 2 * rate, 2 * (1 - rate), 1e-10)), 4 * share, 4 * (1 - share))
	all <- total(function(theta, e) seen(theta, e))
	m <- sapply(1:2, function(k) total(function(theta, e) e^k * seen(theta, e))) / all
	counts <- function(which, struck) sum(vapply(which, function(i) total(function(theta, e) seen(theta, e, i, struck)) / all, 0))
	held <- counts(which(with), "held")
	say(paste(c("faded", show(share), show(rate), rbind(show(before), show(after), show(tells), show(left), as.numeric(with))), collapse = " "),
	    c(m[1], sqrt(m[2] - m[1]^2), counts(which(!with), "came"), counts(which(with), "came") + held, held))
}
for (i in 1:3) {
	n <- 2 + i
	faded(round(runif(1, 0.3, 0.7), 2), round(runif(1, 0.3, 0.7), 2), round(runif(n, 0.1, 0.6), 2), round(runif(n, 0.05, 0.95), 2),
	    round(0.85^(n:1), 4), round(runif(n, 0.4, 1), 2), seq_len(n) > n / 2)
}

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

# one batch more, brewed as each of these was (together.h): rates and shares that stay with the chance `keeps` from batch to batch, so
# every way of being drawn anew, and in each stretch R's integral over both
following <- function(keeps, alone, held, ratio) {
	n <- length(alone)
	m <- mean(alone)
	most <- max(held)
	chance <- function(theta, e, b) {
		y <- if (alone[b] > m) (1 - alone[b]) / (1 - m) else alone[b] / m
		x <- if (alone[b] > m) 1 - y else 0
		(x + y * theta) * (1 - if (most > 0) held[b] / most * e else 0)
	}
	stretch <- function(batches, as) {
		f <- function(theta, e) {
			p <- if (as > 0) chance(theta, e, as) else 1
			for (b in batches) {
				struck <- chance(theta, e, b)
				p <- p * (struck * ratio[b] + 1 - struck)
			}
			p
		}
		given <- Vectorize(function(e) over(function(theta) f(theta, e) + 0 * theta, 2 * m, 2 * (1 - m), 1e-10))
		if (most > 0) over(given, 4 * most, 4 * (1 - most)) else given(0)
	}
	next_as <- function(as) {
		all <- struck <- 0
		for (anew in 0:(2^n - 1)) {
			cut <- bitwAnd(anew, 2^(0:(n - 1))) > 0
			way <- prod(ifelse(cut, 1 - keeps, keeps))
			if (way == 0) next
			from <- 1
			for (b in 1:n) if (cut[b]) {
				way <- way * stretch(from:b, 0)
				from <- b + 1
			}
			last <- if (from <= n) from:n else integer(0)
			all <- all + way * stretch(last, 0)
			struck <- struck + way * stretch(last, as)
		}
		struck / all
	}
	say(paste(c("next", show(keeps), rbind(show(alone), show(held), show(ratio))), collapse = " "), sapply(1:n, next_as))
}
following(1, 0.3, 0, 12)
following(0.85, 0.3, 0, 12)
following(1, c(0.2, 0.5, 0.1, 0.4), rep(0, 4), c(8, 0.3, 3, 5))
following(0.85, c(0.2, 0.5, 0.1), rep(0, 3), c(8, 0.3, 3))
following(1, c(0.4, 0.3, 0.35, 0.2), c(0, 0, 0.6, 0.6), c(9, 6, 0.4, 0.2))
following(0.85, c(0.4, 0.3, 0.2), c(0, 0.5, 0.8), c(9, 0.4, 20))
