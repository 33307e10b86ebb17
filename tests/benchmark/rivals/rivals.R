# SPDX-License-Identifier: GPL-3.0-or-later
# Rscript rivals.R PATH/milehold_timing [rows]: the fits beside R survival's on the same lives in one run, median of five.
suppressMessages(library(survival))
arguments <- commandArgs(TRUE); program <- arguments[1]; n <- if (length(arguments) > 1) as.numeric(arguments[2]) else 1e6
set.seed(1)
x <- cbind(x1 = rbinom(n, 1, 0.4), x2 = rnorm(n), x3 = runif(n), x4 = rbinom(n, 1, 0.1), x5 = rexp(n))
t <- 120000 * rexp(n)^(1 / 1.5) * exp(-drop(x %*% c(0.3, -0.2, 0.1, 0.5, 0)) / 1.5); c <- 150000 * runif(n)
d <- data.frame(miles = pmax(1, floor(pmin(t, c))), end = as.numeric(t <= c), x)
file <- tempfile(fileext = ".csv"); write.csv(format(d, digits = 17, trim = TRUE), file, row.names = FALSE, quote = FALSE)
median5 <- function(work) median(replicate(5, system.time(work())[["user.self"]]))
ours <- function(what) { r <- read.csv(text = system2(program, c(what, file), stdout = TRUE), header = FALSE); setNames(r$V2, r$V1) }
d <- read.csv(file)

d$group <- floor(4 * d$x3); a <- ours("groups"); fit <- NULL
r <- median5(function() fit <<- survfit(Surv(miles, end) ~ group, d, conf.type = "log-log"))
cat(sprintf("Curves of 4 groups, %g rows: ours %.4f s, survfit %.3f s: %.1f x; difference of the last S %.2g\n", n, a[["seconds_curve"]], r, r / a[["seconds_curve"]],
            a[["last"]] - sum(tapply(fit$surv, rep(names(fit$strata), fit$strata), tail, 1))))
r <- median5(function() fit <<- survdiff(Surv(miles, end) ~ group, d))
cat(sprintf("Log-rank of 4 groups, %g rows: ours %.4f s, survdiff %.3f s: %.1f x; difference of chi-square %.2g\n", n, a[["seconds_compare"]], r, r / a[["seconds_compare"]],
            a[["chi_square"]] - fit$chisq))
a <- ours("cox"); fit <- NULL
r <- median5(function() fit <<- coxph(Surv(miles, end) ~ x1 + x2 + x3 + x4 + x5, d, ties = "efron"))
cat(sprintf("Cox, 5 columns, %g rows: ours %.3f s (with the test of proportionality %.3f s), coxph %.3f s: %.1f x; largest difference of a coefficient %.2g\n",
            n, a[["seconds"]], a[["seconds_with_test"]], r, r / a[["seconds"]], max(abs(a[names(coef(fit))] - coef(fit)))))
a <- ours("weibull")
r <- median5(function() fit <<- survreg(Surv(miles, end) ~ 1, d, dist = "weibull"))
cat(sprintf("Weibull, %g rows: ours %.4f s (from counts %.4f s), survreg %.3f s: %.1f x (%.1f x); differences %.2g, %.2g\n", n, a[["seconds"]],
            a[["seconds_from_counts"]], r, r / a[["seconds"]], r / a[["seconds_from_counts"]], a[["scale"]] / exp(coef(fit)) - 1, a[["shape"]] * fit$scale - 1))
writeLines(system2(program, c("turnbull", "10000"), stdout = TRUE))
unlink(file)
