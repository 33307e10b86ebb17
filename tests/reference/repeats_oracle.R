# SPDX-License-Identifier: GPL-3.0-or-later
# `repeats` against the mean cumulative count of survfit() of R survival, whose error by vehicle is that of Lawless and
# Nadeau. survfit() wants one comeback of a vehicle at one mileage; more at one mileage are compared by the formula.
here <- dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE)))
source(file.path(here, "ask.R"))

draw <- function(seed) {
  set.seed(seed)
  n <- sample(c(1, 2, 5, 20, 80), 1); grid <- sample(c(10, 1000), 1); several <- seed %% 3 == 0
  rows <- lapply(seq_len(n), function(v) {
    end <- 1 + floor(grid * runif(1)); m <- ceiling(end * runif(rpois(1, 2))); if (!several) m <- unique(m)
    bare <- length(m) > 0 && runif(1) < 0.3
    data.frame(vehicle = v, miles = if (bare) m else c(m, end), end = c(rep("came-back", length(m)), if (!bare) "holding"), group = sample(c("a", "b"), 1))
  })
  d <- do.call(rbind, rows); d[sample(nrow(d)), ]
}
byFormula <- function(e) {
  close <- tapply(e$miles, e$vehicle, max); back <- e[e$end == "came-back", ]; at <- sort(unique(back$miles)); u <- setNames(rep(0, length(close)), names(close)); mean <- 0
  do.call(rbind, lapply(at, function(t) {
    watched <- names(close)[close >= t]; d <- table(factor(back$vehicle[back$miles == t], names(close))); n <- length(watched); share <- sum(d) / n
    mean <<- mean + share; u[watched] <<- u[watched] + (d[watched] - share) / n; data.frame(miles = t, mean = mean, se = sqrt(sum(u^2))) }))
}

for (seed in seeds(60)) {
  d <- draw(seed); level <- c(0.95, 0.9)[1 + seed %% 2]
  begin(sprintf("seed %d", seed))
  a <- ask(d, "repeats", "--level", level)
  if (is.null(a)) { wrong("refused"); next }
  for (g in sort(unique(d$group))) {
    e <- d[d$group == g, ]; s <- part(a, "step"); s <- s[s$group == g, ]
    if (!any(e$end == "came-back")) { if (nrow(s) > 0) wrong("steps without a comeback"); next }
    want <- byFormula(e)
    if (!any(duplicated(e[e$end == "came-back", c("vehicle", "miles")]))) {
      e <- e[order(e$vehicle, e$miles, e$end == "holding"), ]
      e <- e[!duplicated(e[, c("vehicle", "miles")]), ]; from <- ifelse(duplicated(e$vehicle), c(0, head(e$miles, -1)), 0)
      f <- survfit(Surv(from, e$miles, e$end == "came-back") ~ 1, id = e$vehicle, cluster = e$vehicle, timefix = FALSE)
      i <- match(want$miles, f$time); want$mean <- f$cumhaz[i]; want$se <- f$std.chaz[i]
    }
    if (nrow(s) != nrow(want)) { wrong("%d steps, expected %d", nrow(s), nrow(want)); next }
    z <- qnorm((1 + level) / 2)
    for (j in seq_len(nrow(want))) {
      same("miles", number(s$miles[j]), want$miles[j], 0); same("mean", number(s$mean[j]), want$mean[j], 1e-9); same("se", number(s$se[j]), want$se[j], 1e-9, 1e-9)
      same("lower", number(s$lower[j]), want$mean[j] * exp(-z * want$se[j] / want$mean[j]), 1e-8); same("upper", number(s$upper[j]), want$mean[j] * exp(z * want$se[j] / want$mean[j]), 1e-8)
    }
  }
}
finish("repeats")
