# stats.R - questions for print_stats with R's own answers behind '='
#
# SPDX-License-Identifier: GPL-3.0-or-later
set.seed(20310307)
say <- function(question, answer) cat(question, "=", format(answer, digits = 15, scientific = TRUE, trim = TRUE), "\n")
show <- function(x) format(x, digits = 15, trim = TRUE)

# two means: Student's t test with one variance, one side; its 80 % interval
means <- function(a, b) {
	above <- t.test(a, b, alternative = "greater", var.equal = TRUE)$p.value
	say(paste(c("means 0", length(a), show(a), show(b)), collapse = " "),
	    c(1 - above, t.test(a, b, var.equal = TRUE, conf.level = 0.8)$conf.int))
}
for (i in 1:12) means(round(rnorm(1 + i %% 5, 4, 2), 3), round(rnorm(2 + i %% 4, 2 + i %% 3, 2), 3))
# the sleep data of Student 1908, as R ships them
means(sleep$extra[sleep$group == 1], sleep$extra[sleep$group == 2])

# two shares: P(y < x) by integration over the logit, for Beta densities
below <- function(a1, a2, b1, b2) integrate(function(z)
	exp(a1 * plogis(z, log.p = TRUE) + a2 * plogis(-z, log.p = TRUE) - lbeta(a1, a2)) * pbeta(plogis(z), b1, b2),
	-Inf, Inf, rel.tol = 1e-11, subdivisions = 2000L)$value
for (r in list(c(0, 5, 0, 5), c(5, 5, 0, 5), c(3, 5, 1, 6), c(4, 4, 1, 3), c(1, 1, 0, 1), c(8, 10, 3, 10), c(3, 10, 8, 10), c(0, 10, 0, 3),
	c(2, 20, 1, 20), c(15, 40, 4, 30), c(1, 12, 5, 12), c(7, 7, 7, 7)))
	say(paste(c("shares", r), collapse = " "), below(r[1] + 0.5, r[2] - r[1] + 0.5, r[3] + 0.5, r[4] - r[3] + 0.5))
for (r in list(c(9, 3, 4, 8), c(4, 8, 9, 3), c(1, 11, 4, 8), c(1, 1, 1, 1), c(0.5, 0.5, 2, 3)))
	say(paste(c("beta", r), collapse = " "), below(r[1], r[2], r[3], r[4]))

# a change with a steady drift and lines taken out: lm
for (i in 1:8) {
	n <- 7 + i
	at <- 3 + i %/% 2
	line <- if (i %% 2) rep(1, n) else sample(rep(1:2, length.out = n))
	place <- seq_len(n) - 1
	after <- as.numeric(place >= at)
	y <- round(6 - 0.3 * place - after + 2 * line + rnorm(n), 2)
	m <- if (i %% 2) lm(y ~ place + after) else lm(y ~ factor(line) + place + after)
	k <- summary(m)$coefficients["after", ]
	say(paste(c("allow", at, n, show(y), line), collapse = " "), c(-k[[1]], pt(-k[[3]], m$df.residual), rev(-confint(m, "after", level = 0.8))))
}

# Fisher's exact test
fisher <- function(t) fisher.test(matrix(t, 2, byrow = TRUE))$p.value
for (t in c(list(c(3, 1, 1, 3), c(8, 2, 1, 5), c(1, 9, 11, 3), c(3, 9, 9, 3), c(4, 0, 0, 4), c(0, 4, 4, 0), c(1, 0, 0, 1), c(5, 0, 5, 0),
	c(2, 2, 2, 2), c(40, 60, 55, 45)), lapply(1:30, function(i) rpois(4, 1 + i %% 7))))
	if (sum(t) > 0)
		say(paste(c("fisher", t), collapse = " "), fisher(t))
# the smallest it can be when `with` have the factor and `bad` of n are bad
for (r in list(c(4, 4, 8), c(3, 5, 10), c(1, 6, 12), c(6, 6, 12), c(2, 1, 7))) {
	x <- max(0, r[1] - (r[3] - r[2])):min(r[1], r[2])
	say(paste(c("least", r), collapse = " "), min(sapply(x, function(x) fisher(c(x, r[2] - x, r[1] - x, r[3] - r[2] - r[1] + x)))))
}

# Theil-Sen slope; limits have ranks M1 and M2 + 1 (Sen 1968)
for (n in c(4, 5, 8, 13, 30, 60)) {
	y <- round(5 - 0.1 * seq_len(n) + rnorm(n), 2)
	s <- sort(outer(y, y, "-")[lower.tri(diag(n))] / outer(1:n, 1:n, "-")[lower.tri(diag(n))])
	m <- length(s)
	reach <- qnorm(0.9) * sqrt(n * (n - 1) * (2 * n + 5) / 18)
	say(paste(c("slope", show(y)), collapse = " "), c(median(s), s[max(1, floor((m - reach) / 2))], s[min(m, ceiling((m + reach) / 2) + 1)]))
}

# the common thread: each value of each factor against the rest, step-down min-P over every way to deal out "bad"
splits_of <- function(values) unique(do.call(rbind, lapply(seq_len(ncol(values)), function(f) do.call(rbind, lapply(unique(values[, f]), function(v) {
	with <- values[, f] == v	# each split of the batches once, whichever factors make it and whichever side is named
	if (with[1]) with else !with
})))))
p_of <- function(with, bad) fisher(c(sum(bad & with), sum(bad & !with), sum(!bad & with), sum(!bad & !with)))
min_p <- function(splits, bad) {
	n <- length(bad)
	known <- new.env()
	quick <- function(with, bad) {	# fisher.test once a table
		key <- paste(sum(with), sum(bad & with))
		if (is.null(known[[key]])) known[[key]] <- p_of(with, bad)
		known[[key]]
	}
	p <- apply(splits, 1, quick, bad)
	o <- order(p)
	deals <- combn(n, sum(bad), function(d) {
		all <- apply(splits[o, , drop = FALSE], 1, quick, seq_len(n) %in% d)
		rev(cummin(rev(all))) <= p[o] * (1 + 1e-7)
	})
	list(p = p[o], adjusted = cummax(rowMeans(matrix(deals, length(p)))))
}
thread <- function(kind, n) {
	loads <- round(rgamma(n, 2), 2)
	values <- matrix(sample(1:3, n * 4, replace = TRUE), n)
	if (kind > 2) values[, 1] <- 1 + (loads > median(loads))
	if (kind > 3) values[, 2] <- ifelse(seq_len(n) == 3, 3, values[, 1])	# one vessel under two names, but for a batch
	if (kind > 4) values[, 3] <- ifelse(seq_len(n) == 5, 3, values[, 1])
	bad <- loads > median(loads)
	splits <- splits_of(values)
	splits <- splits[!apply(splits, 1, all), , drop = FALSE]
	m <- min_p(splits, bad)
	say(paste(c(if (n > 16) "drawn" else "thread", n, 4, show(loads), as.vector(values)), collapse = " "), c(m$p, m$adjusted))
}
for (i in 1:6) thread(i, 7 + i)
for (i in c(2, 4)) thread(i, 17)	# 24,310 ways: afterboil draws

# one thread given another: exact over strata
for (i in 1:8) {
	n <- 14 + i
	a <- sample(c(-1, 1), n, replace = TRUE)
	b <- ifelse(runif(n) < 0.25, -a, a)
	use <- ifelse(runif(n) < 0.3, -a, a)
	t <- table(factor(use, c(1, -1)), factor(b, c(1, -1)), factor(a, c(1, -1)))
	say(paste(c("given", n, a, b, use), collapse = " "), mantelhaen.test(t, exact = TRUE)$p.value)
}

# verdicts on batches: lme4's REML on its Dyestuff and Dyestuff2 (where batches do not differ), and on unequal parts of them
suppressPackageStartupMessages(library(lme4))
verdicts <- function(d) {
	m <- lmer(Yield ~ 1 + (1 | Batch), d, REML = TRUE, control = lmerControl(optCtrl = list(ftol_abs = 1e-14, xtol_abs = 1e-12)))
	v <- as.data.frame(VarCorr(m))$sdcor
	say(paste(c("verdicts", show(as.vector(rbind(as.integer(d$Batch), d$Yield)))), collapse = " "), c(fixef(m), v[2], v[1]))
}
verdicts(Dyestuff)
suppressMessages(verdicts(Dyestuff2))
verdicts(Dyestuff[-c(1, 2, 3, 7, 14, 15, 29), ])
verdicts(Dyestuff[-c(2:5, 8, 11:14, 21), ])

# a normal prior and normal data: the posterior's mean and scatter by numerical integration
for (r in list(c(2, 2, 7, 9), c(5, 1, -3, 1), c(0.5, 3, 4, 0.2), c(1, 1, 1, 1))) {
	mid <- (r[1] / r[2]^2 + r[3] / r[4]^2) / (1 / r[2]^2 + 1 / r[4]^2)	# only where to integrate
	f <- function(m, x) x^m * dnorm(x, r[1], r[2]) * dnorm(x, r[3], r[4])
	area <- function(m) integrate(function(x) f(m, x), mid - 12 * min(r[2], r[4]), mid + 12 * min(r[2], r[4]), rel.tol = 1e-12, subdivisions = 4000L)$value
	say(paste(c("learn", r), collapse = " "), c(area(1) / area(0), sqrt(area(2) / area(0) - (area(1) / area(0))^2)))
}

# batches still needed: power of the one-sided test at 10 % by R's noncentral t, as power.t.test reckons it for equal sides
power <- function(apart, nb, na) if (nb + na < 3) 0 else pt(qt(0.9, nb + na - 2), nb + na - 2, apart / sqrt(1 / nb + 1 / na), lower.tail = FALSE)
for (n in c(2, 3, 5, 12, 50))
	stopifnot(abs(power(0.9, n, n) - power.t.test(n, 0.9, 1, 0.1, type = "two.sample", alternative = "one.sided")$power) < 1e-9)
fewest <- function(apart, nb) {	# power grows with n
	n <- 1
	while (n <= 10000 && power(apart, nb, n) < 0.8) n <- if (n < 200) n + 1 else n * 1.05
	if (n > 10000) return(NA)
	n <- floor(n)
	while (n > 1 && power(apart, nb, n - 1) >= 0.8) n <- n - 1
	n
}
for (nb in c(1, 2, 3, 4, 6, 10, 20)) for (apart in c(0.6, 0.8, 1, 1.5, 2, 3)) for (na in c(1, 3, 40)) {
	n <- fewest(apart, nb)
	say(paste("more", apart, nb, na), c(if (is.na(n)) -1 else max(0, n - na), power(apart, nb, na)))
}

# promises that hold: the true effect as the promise says, drawn anew each time; loads around it; R judges by t.test
for (n in c(2, 3, 5, 10)) for (i in 1:1000) {
	promised <- 2
	a <- round(rnorm(n, 6, 1.5), 4)
	b <- round(rnorm(n, 6 - rnorm(1, promised, promised), 1.5), 4)
	sd <- diff(t.test(a, b, var.equal = TRUE, conf.level = 0.8)$conf.int) / 2 / qnorm(0.9)
	say(paste(c("held", promised, n, show(a), show(b)), collapse = " "), as.integer(abs(mean(a) - mean(b) - promised) <= qnorm(0.9) * sqrt(sd^2 + promised^2)))
}

# where the next value is expected: predict.lm, 80 %
for (n in c(5, 6, 9, 15, 30)) {
	x <- round(rnorm(n, 19, 1.5), 2)
	x <- pmin(pmax(x, mean(x) - 2 * sd(x)), mean(x) + 2 * sd(x))	# no odd ones
	x <- round(x, 2)
	say(paste(c("next", show(x)), collapse = " "), as.vector(predict(lm(x ~ 1), data.frame(y = 0), interval = "prediction", level = 0.8)))
}

# blame of one cause, batch by batch: how many batches owe it their faults is Poisson-binomial, here by convolution; the chance that it is
# blamed less often after, over all the counts there may be
counts <- function(p) Reduce(function(d, q) c(d * (1 - q), 0) + c(0, d * q), p, 1)
for (i in 1:40) {
	b <- round(runif(1 + i %% 8)^(1 + i %% 3), 3)
	a <- round(runif(1 + i %% 6)^(1 + i %% 4), 3)
	nb <- length(b); na <- length(a)
	cb <- counts(b); ca <- counts(a)
	p <- sum(sapply(0:nb, function(x) sapply(0:na, function(y) cb[x + 1] * ca[y + 1] * below(x + 0.5, nb - x + 0.5, y + 0.5, na - y + 0.5))))
	if (max(sum(b), sum(a)) >= 0.25)	# less is not told
		say(paste(c("blamed", nb, na, show(b), show(a)), collapse = " "), c(sum(cb * 0:nb), sum(ca * 0:na), p))
}
