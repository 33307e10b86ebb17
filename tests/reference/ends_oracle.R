# SPDX-License-Identifier: GPL-3.0-or-later
# `ends` against the multi-state survfit() of R survival (whose infinitesimal jackknife is the Greenwood-type error for
# lives that all enter at 0), and Gray's test against cuminc() of R cmprsk.
here <- dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE)))
source(file.path(here, "ask.R")); source(file.path(here, "random_lives.R"))
if (!requireNamespace("cmprsk", quietly = TRUE)) stop("R cmprsk is missing: install r-cran-cmprsk")
tests <- 0

for (seed in seeds(60)) {
  d <- draw(seed + 5000, weights = FALSE)
  other <- d$end == "holding" & runif(nrow(d)) < 0.6; d$end[other] <- sample(c("scrapped", "repaired elsewhere"), sum(other), TRUE)
  d$weight <- if (seed %% 4 == 1) sample(1:3, nrow(d), TRUE) else 1
  begin(sprintf("seed %d", seed))
  a <- ask(d, "ends")
  if (is.null(a)) { wrong("refused"); next }
  kinds <- setdiff(unique(d$end), "holding")
  for (g in groupsOf(d)) {
    e <- d[d$group == g, ]; e <- e[rep(seq_len(nrow(e)), e$weight), ]
    if (!any(e$end != "holding")) { if (any(a$part == "step" & a$group == g)) wrong("steps without an end"); next }
    state <- factor(e$end, c("holding", sort(kinds)))
    f <- if (late(e)) survfit(Surv(entryOf(e), e$miles, state) ~ 1, id = seq_len(nrow(e)), timefix = FALSE) else survfit(Surv(e$miles, state) ~ 1, timefix = FALSE)
    for (k in kinds) {
      s <- part(a, "step"); s <- s[s$group == g & s$end == k, ]
      at <- sort(unique(e$miles[e$end != "holding"])); i <- match(at, f$time); col <- match(k, f$states)
      if (nrow(s) != length(at)) { wrong("%d steps of %s, expected %d", nrow(s), k, length(at)); next }
      for (j in seq_along(at)) {
        same("miles", number(s$miles[j]), at[j], 0)
        same(paste("incidence of", k), number(s$incidence[j]), if (is.na(col)) 0 else f$pstate[i[j], col], 1e-9)
        if (!late(e)) same("its se", number(s$se[j]), if (is.na(col)) 0 else f$std.err[i[j], col], 1e-9, 1e-9)
      }
    }
  }
  if (late(d) || length(groupsOf(d)) < 2 || nrow(d) < 20) next
  e <- d[rep(seq_len(nrow(d)), d$weight), ]; t <- part(a, "test")
  r <- tryCatch(cmprsk::cuminc(e$miles, e$end, e$group, cencode = "holding")$Tests, error = function(x) NULL)
  if (is.null(r)) next
  for (k in rownames(r)) { mine <- t[t$end == k, ]; if (is.na(number(mine$chi_square))) { if (is.finite(r[k, "stat"]) && r[k, "stat"] > 0) wrong("no test of %s", k); next }
    if (r[k, "stat"] == -1) { wrong("a test of %s where the variance is singular", k); next } # cuminc() says so by -1
    tests <- tests + 1; same(paste("Gray's test of", k), number(mine$chi_square), r[k, "stat"], 1e-7, 1e-9); same("its df", number(mine$df), r[k, "df"], 0) }
}
cat(sprintf("ends: %d of Gray's tests compared\n", tests))
if (tests == 0) wrong("none of Gray's tests was compared")
finish("ends")
