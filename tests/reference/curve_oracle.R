# SPDX-License-Identifier: GPL-3.0-or-later
# `curve` against survfit() of R survival (steps, limits, hazards, means, conditional curves), its quantile rule, and the
# exact limits against qbeta().
here <- dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE)))
source(file.path(here, "ask.R")); source(file.path(here, "random_lives.R"))

CLOSED <- 1e-9
TYPES <- c(`log-log` = "log-log", log = "log", linear = "plain")
fitted <- function(d, type, level, from = NULL) {
  y <- if (late(d)) Surv(entryOf(d), d$miles, d$end == "came-back") else Surv(d$miles, d$end == "came-back")
  if (is.null(from)) survfit(y ~ 1, weights = d$weight, conf.type = type, conf.int = level, robust = FALSE, timefix = FALSE)
  else survfit(y ~ 1, weights = d$weight, conf.type = type, conf.int = level, robust = FALSE, timefix = FALSE, start.time = from)
}
# Equal, or both nothing.
either <- function(what, got, want) if (is.na(want) || !is.finite(want)) { oracle$values <- oracle$values + 1; if (!is.na(got)) wrong("%s is %g where nothing exists", what, got) } else same(what, got, want, CLOSED)
column <- function(what, got, want) for (i in seq_along(want)) either(paste(what, "step", i), got[i], want[i])
# First crossing with the middle of a stretch that is exactly there (print.survfit); empty values are skipped.
crossing <- function(time, y, p, tol = sqrt(.Machine$double.eps)) {
  keep <- !is.na(y); t <- c(0, time[keep]); v <- c(1, y[keep]); turn <- c(TRUE, diff(v) != 0); t <- t[turn]; v <- v[turn]
  k <- which(v <= 1 - p + tol)[1]
  if (is.na(k)) return(NA)
  if (abs(v[k] - (1 - p)) > tol) return(t[k])
  if (k < length(t)) (t[k] + t[k + 1]) / 2 else if (is.na(y[length(y)])) t[k] else (t[k] + time[length(time)]) / 2
}

# Beta product confidence procedure by the method of moments (Fay, Brittain & Proschan 2013), from a table of n and d.
exact <- function(n, d, survival, level) {
  tail <- (1 - level) / 2; h <- length(n); s <- 1; t2 <- 1; lower <- upper <- numeric(h); lo <- tail^(1 / n[1]); up <- 1
  matched <- function(s, t2) c((s - t2) * s / (t2 - s^2), (s - t2) * (1 - s) / (t2 - s^2))
  for (i in seq_len(h)) {
    if (d[i] > 0) { a <- n[i] - d[i] + 1; b <- d[i]; s <- s * a / (a + b); t2 <- t2 * a * (a + 1) / ((a + b) * (a + b + 1))
      m <- matched(s, t2); up <- min(up, qbeta(1 - tail, m[1], m[2])) }
    if (i < h) { a <- n[i + 1]; m <- matched(s * a / (a + 1), t2 * a / (a + 2)); lo <- min(lo, qbeta(tail, m[1], m[2])) } else lo <- 0
    lo <- min(lo, survival[i]); up <- max(up, survival[i]); lower[i] <- lo; upper[i] <- up
  }
  list(lower = lower, upper = upper)
}
exactMidP <- function(n, d, survival, level) {
  tail <- (1 - level) / 2; h <- length(n); s <- 1; t2 <- 1; lower <- upper <- numeric(h); lo <- 1; up <- 1; m <- c(1, 0)
  matched <- function(s, t2) c((s - t2) * s / (t2 - s^2), (s - t2) * (1 - s) / (t2 - s^2))
  # Before a comeback one half of the mixture is the point 1, after the last mileage one half is the point 0.
  mixed <- function(p, above, below) { cdf <- function(x) ((if (above[2] == 0) x >= 1 else pbeta(x, above[1], above[2])) + (if (below[1] == 0) 1 else pbeta(x, below[1], below[2]))) / 2
    if (cdf(1 - 1e-15) < p) 1 else if (cdf(0) >= p) 0 else uniroot(function(x) cdf(x) - p, c(0, 1 - 1e-15), tol = 1e-15)$root }
  lo <- mixed(tail, c(1, 0), c(n[1], 1))
  for (i in seq_len(h)) {
    if (d[i] > 0) { a <- n[i] - d[i] + 1; b <- d[i]; s <- s * a / (a + b); t2 <- t2 * a * (a + 1) / ((a + b) * (a + b + 1)); m <- matched(s, t2) }
    k <- if (i < h) { a <- n[i + 1]; matched(s * a / (a + 1), t2 * a / (a + 2)) } else c(0, 1)
    up <- max(min(up, mixed(1 - tail, m, k)), survival[i]); lo <- min(lo, if (i < h) mixed(tail, m, k) else 0, survival[i]); lower[i] <- lo; upper[i] <- up
  }
  list(lower = lower, upper = upper)
}

for (seed in seeds(72)) {
  d <- draw(seed); level <- c(0.95, 0.8, 0.99)[1 + seed %% 3]
  for (limits in names(TYPES)) {
    begin(sprintf("%s seed %d", limits, seed))
    ends <- vapply(split(d$miles, d$group), max, 0); tau <- min(ends) * 0.9; marks <- unique(c(0, quantile(d$miles, c(0.3, 0.8)), max(d$miles) * 1.1))
    u <- unname(quantile(d$miles, 0.4))
    a <- ask(d, "curve", "--limits", limits, "--level", sprintf("%.17g", level), "--at", paste(sprintf("%.17g", marks), collapse = ","), "--given", sprintf("%.17g", u), if (tau > 0) c("--tau", sprintf("%.17g", tau)))
    if (is.null(a)) { wrong("refused"); next }
    if (!identical(unique(part(a, "group")$group), groupsOf(d))) wrong("order of the groups")
    for (g in groupsOf(d)) {
      e <- d[d$group == g, ]; f <- fitted(e, TYPES[[limits]], level); steps <- part(a, "step"); steps <- steps[steps$group == g, ]
      if (nrow(steps) != length(f$time)) { wrong("%d steps, R has %d", nrow(steps), length(f$time)); next }
      zero <- f$surv <= 1e-14; S <- ifelse(zero, 0, f$surv); se <- ifelse(zero, NA, f$std.err * f$surv)
      none <- zero | (limits == "log-log" & f$surv == 1); lower <- ifelse(none, NA, f$lower); upper <- ifelse(none, NA, f$upper)
      column("miles", number(steps$miles), f$time); column("watched", number(steps$watched), f$n.risk); column("comebacks", number(steps$comebacks), f$n.event)
      column("left", number(steps$left), f$n.censor); column("survival", number(steps$survival), S); column("se", number(steps$se), se)
      column("lower", number(steps$lower), lower); column("upper", number(steps$upper), upper)
      column("hazard", number(steps$cumulative_hazard), f$cumhaz); column("hazard se", number(steps$cumulative_hazard_se), f$std.chaz)
      q <- part(a, "quantile"); q <- q[q$group == g, ]
      for (k in 1:3) { p <- number(q$p[k]); either("quantile", number(q$miles[k]), crossing(f$time, S, p)); either("its lower", number(q$lower[k]), crossing(f$time, lower, p)); either("its upper", number(q$upper[k]), crossing(f$time, upper, p)) }
      if (tau > 0) { m <- survival:::survmean(f, rmean = tau)$matrix; r <- part(a, "restricted_mean"); r <- r[r$group == g, ]
        same("restricted mean", number(r$mean), m[["rmean"]], CLOSED); same("its se", number(r$se), m[["se(rmean)"]], CLOSED, 1e-9 * tau) }
      at <- part(a, "at"); at <- at[at$group == g, ]
      for (k in seq_along(marks)) { i <- findInterval(marks[k], f$time); s <- if (marks[k] > max(e$miles)) NA else if (i == 0) 1 else S[i]
        either("survival at", number(at$survival[k]), s); same("watched at", number(at$watched[k]), sum(e$weight[(e$entry < marks[k] | (marks[k] == 0 & e$entry == 0)) & e$miles >= marks[k]]), CLOSED) }
      over <- e[e$miles > u, ]; con <- part(a, "conditional"); con <- con[con$group == g, ]
      if (nrow(over) > 0) { over$entry <- ifelse(over$entry > u, over$entry, 0); r <- fitted(over, TYPES[[limits]], level)
        for (k in seq_along(marks)) { i <- findInterval(marks[k], r$time); s <- if (marks[k] < u || marks[k] > max(e$miles)) NA else if (i == 0) 1 else if (r$surv[i] <= 1e-14) 0 else r$surv[i]
          either("conditional", number(con$survival[k]), s) } }
    }
  }
  for (method in c("exact", "exact-mid-p")) {
  begin(sprintf("%s seed %d", method, seed))
  a <- ask(d, "curve", "--limits", method, "--level", sprintf("%.17g", level)); steps <- part(a, "step")
  for (g in groupsOf(d)) { s <- steps[steps$group == g, ]; x <- (if (method == "exact") exact else exactMidP)(number(s$watched), number(s$comebacks), number(s$survival), level)
    for (i in seq_len(nrow(s))) { same("exact lower", number(s$lower[i]), x$lower[i], 1e-8, 1e-9); same("exact upper", number(s$upper[i]), x$upper[i], 1e-8) } } }
}
finish("curve")
