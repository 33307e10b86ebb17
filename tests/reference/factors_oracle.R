# SPDX-License-Identifier: GPL-3.0-or-later
# `factors` against coxph() and cox.zph(transform = "km", terms = FALSE) of R survival.
source(file.path(dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE))), "ask.R"))

draw <- function(seed) {
  set.seed(seed)
  n <- sample(c(30, 80, 300), 1)
  a <- rbinom(n, 1, 0.4); b <- 1e4 * rexp(n); kind <- sample(c("chain", "phaser", "valve"), n, TRUE)
  entry <- if (seed %% 3 == 0) ifelse(runif(n) < 0.5, floor(20 * runif(n)), 0) else rep(0, n)
  t <- floor(entry) + 1 + floor(60 * rexp(n) * exp(-0.5 * a + 2e-5 * b)); c <- floor(entry) + 1 + floor(90 * runif(n))
  d <- data.frame(miles = pmin(t, c), end = ifelse(t <= c, "came-back", "holding"), entry = entry,
             stratum = sample(c("x", "y"), n, TRUE), vehicle = sample(seq_len(ceiling(n / 2)), n, TRUE), weight = 1, a = a, b = b, kind = kind)
  if (seed %% 4 == 0) d$weight <- sample(1:3, n, TRUE)
  d
}

# Direct adjustment by its definition: S averaged over all rows with one column set, its error by the delta method from
# the parts of survfit.coxph() (Breslow or Efron increments of the baseline hazard, as coxph.detail() names them).
adjusted <- function(e, X, r, term, value, at, ties) {
  X[, term] <- value; V <- vcov(r); b <- coef(r); n <- nrow(X); sum <- 0; variance <- 0; q <- rep(0, ncol(X)); orig <- model.matrix(~ a + b + phaser + valve, e)[, -1]
  for (s in unique(e$part)) { i <- which(e$part == s); w <- exp(drop(orig %*% b)); H <- 0; v <- 0; m <- rep(0, ncol(X))
    for (t in sort(unique(e$miles[i][e$event[i] == 1]))) { if (t > at) break
      risk <- i[e$entry[i] < t & e$miles[i] >= t]; dead <- risk[e$miles[risk] == t & e$event[risk] == 1]; d <- length(dead)
      for (k in seq_len(d) - 1) { f <- if (ties == "efron") k / d else 0
        c <- sum(w[risk]) - f * sum(w[dead]); x <- (colSums(w[risk] * orig[risk, , drop = FALSE]) - f * colSums(w[dead] * orig[dead, , drop = FALSE])) / c
        H <- H + 1 / c; v <- v + 1 / c^2; m <- m + x / c } }
    g <- exp(drop(X[i, , drop = FALSE] %*% b)); S <- exp(-g * H); sum <- sum + base::sum(S); variance <- variance + base::sum(S * g)^2 * v
    q <- q + colSums(S * g * (H * X[i, , drop = FALSE] - rep(m, each = length(i)))) }
  c(sum / n, sqrt(variance + drop(q %*% V %*% q)) / n)
}

refused <- 0
for (seed in seeds(45)) for (ties in c("efron", "breslow")) {
  d <- draw(seed); strata <- seed %% 5 == 0; cluster <- seed %% 2 == 0
  begin(sprintf("%s seed %d", ties, seed))
  e <- d[rep(seq_len(nrow(d)), d$weight), ]; e$event <- as.numeric(e$end == "came-back"); e$phaser <- as.numeric(e$kind == "phaser"); e$valve <- as.numeric(e$kind == "valve")
  y <- if (any(e$entry > 0)) Surv(ifelse(e$entry > 0, e$entry, -1), e$miles, e$event) else Surv(e$miles, e$event)
  control <- coxph.control(eps = 1e-13, iter.max = 60, toler.chol = 1e-14, timefix = FALSE)
  f <- if (strata) y ~ a + b + phaser + valve + strata(stratum) else y ~ a + b + phaser + valve
  endless <- FALSE
  r <- withCallingHandlers(coxph(f, e, ties = ties, control = control), warning = function(w) {
    if (grepl("may be infinite", conditionMessage(w))) endless <<- TRUE; invokeRestart("muffleWarning") })
  got <- ask(d, "factors", "--terms", "a,b,kind", "--ties", ties, if (strata) "--stratum", if (cluster) "--cluster")
  if (endless) { if (!is.null(got)) wrong("a coefficient without a finite value was not refused"); refused <- refused + 1; next }
  if (is.null(got)) { wrong("refused"); next }
  t <- part(got, "terms")
  if (!identical(t$term, c("a", "b", "kind=phaser", "kind=valve"))) { wrong("terms %s", paste(t$term, collapse = " ")); next }
  se <- sqrt(diag(vcov(r)))
  for (k in 1:4) {
    same(paste(t$term[k], "coefficient"), number(t$coefficient[k]), unname(coef(r)[k]), 1e-6, 1e-8 * se[k])
    same(paste(t$term[k], "se"), number(t$se[k]), unname(se[k]), 1e-6)
  }
  if (cluster) {
    rs <- sqrt(diag(vcov(coxph(f, e, ties = ties, control = control, cluster = vehicle))))
    for (k in 1:4) same(paste(t$term[k], "robust se"), number(t$robust_se[k]), unname(rs[k]), 1e-6)
  }
  l <- part(got, "likelihood")
  same("log likelihood", number(l$log_likelihood), r$loglik[2], 1e-9); same("at 0", number(l$log_likelihood_null), r$loglik[1], 1e-9)
  w <- part(got, "whole"); chi <- setNames(number(w$chi_square), w$test)
  same("likelihood ratio", chi[["likelihood_ratio"]], 2 * diff(r$loglik), 1e-6); same("score", chi[["score"]], r$score, 1e-6); same("wald", chi[["wald"]], unname(r$wald.test), 1e-6)
  z <- cox.zph(r, transform = "km", terms = FALSE)$table; ph <- part(got, "proportional_hazards")
  if (nrow(ph) != nrow(z)) { wrong("%d tests of proportionality", nrow(ph)); next }
  for (k in seq_len(nrow(z))) same(paste("proportional hazards", ph$term[k]), number(ph$chi_square[k]), z[k, 1], 1e-5, 1e-9)
  # Adjusted curves with their errors, on the tables small enough to be worked out row by row.
  if (seed %% 3 != 1 || nrow(e) > 200) next
  e$part <- if (strata) e$stratum else rep("all", nrow(e)); e$entry <- ifelse(e$entry > 0, e$entry, -1); marks <- unname(quantile(e$miles, c(0.3, 0.7)))
  X <- model.matrix(~ a + b + phaser + valve, e)[, -1]
  got <- ask(d, "factors", "--terms", "a,b,kind", "--ties", ties, if (strata) "--stratum", "--adjust", "a", "--at", paste(sprintf("%.17g", marks), collapse = ","))
  if (is.null(got)) { wrong("adjusted curves refused"); next }
  c1 <- part(got, "adjusted"); z <- qnorm(0.975)
  for (k in seq_len(nrow(c1))) {
    want <- adjusted(e, X, r, "a", number(c1$value[k]), number(c1$miles[k]), ties)
    same("adjusted survival", number(c1$survival[k]), want[1], 1e-6); same("its se", number(c1$se[k]), want[2], 1e-5, 1e-12)
    same("its lower limit", number(c1$lower[k]), want[1] * exp(-z * want[2] / want[1]), 1e-5); same("its upper limit", number(c1$upper[k]), min(1, want[1] * exp(z * want[2] / want[1])), 1e-5)
  }
}
# One column alone: the adjusted curve is the one that survfit() predicts for it.
for (seed in seeds(20)) for (ties in c("efron", "breslow")) {
  d <- draw(3 * seed + 1); d$weight <- 1; begin(sprintf("adjusted by one column, %s seed %d", ties, seed)); marks <- unname(quantile(d$miles, c(0.2, 0.5, 0.8)))
  r <- coxph(Surv(miles, end == "came-back") ~ a, d, ties = ties, control = coxph.control(eps = 1e-13, iter.max = 60, toler.chol = 1e-14, timefix = FALSE))
  got <- ask(d, "factors", "--terms", "a", "--ties", ties, "--adjust", "a", "--at", paste(sprintf("%.17g", marks), collapse = ","))
  if (is.null(got)) { wrong("refused"); next }
  c1 <- part(got, "adjusted"); f <- summary(survfit(r, data.frame(a = 0:1), conf.type = "log"), times = marks)
  for (k in seq_len(nrow(c1))) { i <- match(number(c1$miles[k]), marks); j <- number(c1$value[k]) + 1
    same("survival", number(c1$survival[k]), f$surv[i, j], 1e-6); same("its se", number(c1$se[k]), f$std.err[i, j], 1e-6)
    same("lower", number(c1$lower[k]), f$lower[i, j], 1e-6); same("upper", number(c1$upper[k]), f$upper[i, j], 1e-6) }
}
cat(sprintf("factors: %d refused by both\n", refused))
finish("factors")
