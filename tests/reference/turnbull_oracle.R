# SPDX-License-Identifier: GPL-3.0-or-later
# Curves from intervals. survfit() of R survival stops early, so it is compared loosely; the proof is the Kuhn-Tucker
# conditions (Gentleman & Geyer 1994), worked out here from the rows alone with dense matrices.
source(file.path(dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE))), "ask.R"))

draw <- function(seed) {
  set.seed(seed)
  n <- sample(c(4, 12, 40, 120), 1); grid <- sample(c(8, 60, 5000), 1)
  t <- ceiling(grid * rexp(n) / 2); first <- round(grid * runif(n)); second <- first + 1 + round(grid * runif(n) * 0.5)
  kind <- runif(n); l <- u <- t
  look <- kind > 0.2; l[look] <- ifelse(t <= first, 0, ifelse(t <= second, first, second))[look]
  u[look] <- ifelse(t <= first, pmax(first, 1), ifelse(t <= second, second, Inf))[look]
  drop <- kind < 0.05; u[drop] <- Inf
  data.frame(l = l, u = u, w = sample(c(1, 1, 1, 2, 5), n, TRUE))
}

near <- 0
for (seed in seeds(60)) {
  r <- draw(seed)
  if (!any(is.finite(r$u) & r$u > r$l)) next
  begin(sprintf("seed %d", seed))
  d <- data.frame(miles = r$l, end = ifelse(is.finite(r$u), "came-back", "holding"),
                  until = ifelse(is.finite(r$u) & r$u > r$l, r$u, NA), weight = r$w)
  a <- ask(d, "curve")
  if (is.null(a)) { wrong("refused"); next }
  m <- part(a, "interval"); from <- number(m$from); to <- number(m$to); to[is.na(to)] <- Inf; mass <- number(m$mass)
  same("sum of masses", sum(mass), 1, 1e-6)
  # Every place where mass could lie: the points between and at all ends; 0.25 and 0.75 stand for inside and after.
  ends <- sort(unique(c(r$l, r$u[is.finite(r$u)])))
  places <- sort(unique(c(ends, ends + 0.5)))
  inside <- function(x, l, u) if (l == u) x == l else x > l & x <= u
  A <- outer(seq_len(nrow(r)), seq_along(places), Vectorize(function(i, j) inside(places[j], r$l[i], r$u[i])))
  # Put each mass at its interval's end (exact: there; unbounded: beyond everything).
  spot <- ifelse(is.finite(to), to, max(places)); P <- drop(A[, match(spot, places), drop = FALSE] %*% mass)
  if (any(P <= 0)) { wrong("a row without probability"); next }
  slope <- drop(crossprod(A, r$w / P)) / sum(r$w)
  same("largest mean gradient", max(slope), 1, 1e-6)
  for (j in seq_along(mass)) if (mass[j] > 1e-6) same(sprintf("gradient at mass %d", j), slope[match(spot[j], places)], 1, 1e-6)
  lower <- ifelse(r$l == 0 & r$u > 0, NA, r$l)
  s <- tryCatch(suppressWarnings(survfit(Surv(lower, ifelse(is.finite(r$u), r$u, NA), type = "interval2") ~ 1, weights = r$w)), error = function(e) NULL)
  if (is.null(s)) next
  # survfit() is compared only where it has come near its own optimum: its masses must meet the conditions to 1 %.
  theirs <- -diff(c(1, s$surv)); beyond <- max(0, 1 - sum(theirs))
  B <- sapply(s$time, function(x) mapply(function(l, u) inside(x, l, u), r$l, r$u)); dim(B) <- c(nrow(r), length(s$time))
  Q <- drop(B %*% theirs) + beyond * is.infinite(r$u)
  if (any(Q <= 0) || max(crossprod(A, r$w / Q)) / sum(r$w) > 1.01) next
  near <- near + 1
  for (x in ends) if (!any(mass > 1e-4 & from < x & x < to)) {
    i <- findInterval(x, s$time); same(sprintf("S(%g)", x), 1 - sum(mass[to <= x]), c(1, s$surv)[i + 1], 0, 0.02)
  }
}
cat(sprintf("turnbull: survfit() came near its optimum in %d of them\n", near))
finish("turnbull")
