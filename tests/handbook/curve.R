# curve.R - the same gravity curves by R's nls: reads what print_models writes, writes its own "set N fit" and "set N cov"
#
# SPDX-License-Identifier: GPL-3.0-or-later
# nls warns when it can go no lower: that is where it should be
options(warn = -1)
lines <- strsplit(readLines(file("stdin")), " ")
number <- function(word) as.numeric(word)
sets <- unique(vapply(lines, function(l) l[2], ""))
say <- function(set, what, x) cat("set", set, what, formatC(x, digits = 12, format = "g"), "\n")

for (set in sets) {
	mine <- Filter(function(l) l[2] == set, lines)
	point <- Filter(function(l) l[3] == "point", mine)
	known <- Filter(function(l) l[3] == "known", mine)
	kind <- c(rep("at", length(point)), vapply(known, function(l) ifelse(l[4] == "0", "pi", "pe"), ""))
	h <- c(vapply(point, function(l) number(l[4]), 0), rep(0, length(known)))
	p <- c(vapply(point, function(l) number(l[5]), 0), vapply(known, function(l) number(l[5]), 0))
	u <- c(vapply(point, function(l) number(l[6]), 0), vapply(known, function(l) number(l[6]), 0))
	# D() does the slopes: numeric ones would stop nls short of the last digits
	left <- quote(1 / (1 + exp(B * (h - M))))
	logistic <- substitute(Pe + (Pi - Pe) * left, list(left = left))
	curve <- function(h, kind, Pi, Pe, B, M) {
		value <- ifelse(kind == "pi", Pi, ifelse(kind == "pe", Pe, eval(logistic)))
		attr(value, "gradient") <- vapply(c("Pi", "Pe", "B", "M"), function(name)
			ifelse(kind == "at", eval(D(logistic, name)), as.numeric((kind == "pi" & name == "Pi") | (kind == "pe" & name == "Pe"))),
			numeric(length(h)))
		value
	}
	at <- kind == "at"
	middle <- approx(p[at], h[at], (max(p) + min(p)) / 2, ties = mean)$y
	start <- list(Pi = max(p), Pe = min(p), B = 6 / (max(h) - min(h)) + 0.02, M = middle)
	fit <- nls(p ~ curve(h, kind, Pi, Pe, B, M), start = start, weights = 1 / u^2, algorithm = "port",
		control = nls.control(maxiter = 500))
	# port stops on small steps; a last run of Gauss-Newton from there takes it to the bottom, or says that it stands there
	fit <- nls(p ~ curve(h, kind, Pi, Pe, B, M), start = as.list(coef(fit)), weights = 1 / u^2,
		control = nls.control(tol = 1e-10, maxiter = 50, warnOnly = TRUE))
	chi2 <- sum(((p - fitted(fit)) / u)^2)
	freedom <- length(p) - 4
	# ours is (J'WJ)^-1, widened only when the readings scatter more than their u says
	plain <- vcov(fit) / summary(fit)$sigma^2
	say(set, "fit", c(coef(fit), chi2))
	say(set, "cov", as.vector(plain * max(1, if (freedom > 0) chi2 / freedom else 1)))
}
