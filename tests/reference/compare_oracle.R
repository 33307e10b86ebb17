# SPDX-License-Identifier: GPL-3.0-or-later
# `compare` against survdiff() (log-rank, G-rho, strata, and its variance for the trend) and, with delayed entries, the
# score test of coxph(), which is the log-rank test where no two lives come back at one mileage.
here <- dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE)))
source(file.path(here, "ask.R")); source(file.path(here, "random_lives.R"))

tested <- function(label, d, ...) {
  begin(label)
  a <- ask(d, "compare", ...)
  if (is.null(a)) { wrong("refused"); return(NULL) }
  t <- part(a, "test"); g <- part(a, "group")
  list(chi = number(t$chi_square[1]), df = number(t$df[1]), p = number(t$p[1]), trend = number(t$chi_square[t$test == "trend"]), groups = g)
}
nothing <- 0
for (seed in seeds(80)) {
  d <- draw(seed + 1000, entries = FALSE, weights = FALSE); d$stratum <- sample(c("a", "b"), nrow(d), TRUE); d$weight <- sample(1:3, nrow(d), TRUE)
  e <- d[rep(seq_len(nrow(d)), d$weight), ]; e$back <- e$end == "came-back"; e$g <- factor(e$group, groupsOf(d))
  for (rho in c(0, 1, 0.5)) for (strata in c(FALSE, TRUE)) {
    got <- tested(sprintf("rho %g%s seed %d", rho, if (strata) " in strata" else "", seed), d, "--rho", rho, "--trend", if (strata) "--stratum")
    if (is.null(got)) next
    if (nlevels(e$g) < 2 || !any(e$back)) { if (!is.na(got$p)) wrong("a p where nothing exists"); nothing <- nothing + 1; next }
    r <- tryCatch(survdiff(if (strata) Surv(miles, back) ~ g + strata(stratum) else Surv(miles, back) ~ g, e, rho = rho), error = function(x) NULL)
    if (is.null(r)) { nothing <- nothing + 1; next }
    o <- if (is.matrix(r$obs)) rowSums(r$obs) else r$obs; x <- if (is.matrix(r$exp)) rowSums(r$exp) else r$exp
    for (k in seq_along(o)) { same("observed", number(got$groups$observed[k]), o[k], 1e-9); same("expected", number(got$groups$expected[k]), x[k], 1e-9) }
    usable <- which(x > 0); if (length(usable) < 2) { same("df", got$df, 0, 0); next }
    v <- r$var[usable[-1], usable[-1], drop = FALSE]
    if (rcond(v) < 1e-13) { if (!is.na(got$chi)) wrong("a chi-square with a singular variance"); nothing <- nothing + 1; next }
    chi <- drop((o - x)[usable[-1]] %*% solve(v, (o - x)[usable[-1]]))
    same("chi-square", got$chi, chi, 1e-8); same("df", got$df, length(usable) - 1, 0); same("p", got$p, pchisq(chi, length(usable) - 1, lower.tail = FALSE), 1e-6, 1e-300)
    names <- suppressWarnings(as.numeric(levels(e$g))); s <- if (anyNA(names)) seq_along(names) else names
    z <- sum(s * (o - x))^2 / drop(s %*% r$var %*% s); if (is.finite(z)) same("trend", got$trend, z, 1e-8)
  }
}
for (seed in seeds(40)) {
  d <- draw(3 * seed + 3000, weights = FALSE, ties = FALSE); d$end[] <- ifelse(runif(nrow(d)) < 0.7, "came-back", "holding"); d$miles <- d$miles + 1e-3 * seq_len(nrow(d))
  if (length(unique(d$group)) < 2 || nrow(d) < 8) next
  got <- tested(sprintf("delayed entries seed %d", seed), d)
  if (is.null(got)) next
  r <- suppressWarnings(coxph(Surv(entryOf(d), d$miles, d$end == "came-back") ~ factor(d$group), timefix = FALSE, control = coxph.control(iter.max = 0, timefix = FALSE)))
  same("chi-square", got$chi, r$score, 1e-8)
}
cat(sprintf("compare: %d cases where no test exists\n", nothing))
finish("compare")
