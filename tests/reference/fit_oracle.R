# SPDX-License-Identifier: GPL-3.0-or-later
# `fit` against survreg() of R survival, and against nlm() on the likelihood written out here where lives enter late.
source(file.path(dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE))), "ask.R"))
MODELS <- c("weibull", "lognormal", "exponential")
Z <- qnorm(0.975)

rounded <- function(x) pmax(1, round(x))
draw <- function(seed, kind) {
  set.seed(seed)
  n <- sample(c(6, 15, 40, 150), 1); shape <- exp(runif(1, -0.5, 1.5)); scale <- 10^runif(1, 1, 5)
  t <- rounded(scale * rexp(n)^(1 / shape)); c <- rounded(scale * runif(n, 0.3, 2))
  d <- data.frame(miles = pmin(t, c), end = ifelse(t <= c, "came-back", "holding"), until = NA, weight = 1)
  if (kind == "interval") { # looked at now and then; some seen at once, some first seen broken
    look <- rounded(scale * runif(n, 0.05, 0.8)); step <- look * runif(n, 0.2, 1.2)
    k <- floor(t / look - 1e-9)
    some <- runif(n) < 0.7 & t <= c
    d$miles[some] <- (k * look)[some]; d$until[some] <- ((k + 1) * look)[some]
  }
  if (kind == "weights") d$weight <- round(rexp(n) + 0.1, 3)
  d
}

for (kind in c("right", "interval", "weights")) for (seed in seeds(25)) {
  d <- draw(seed, kind); back <- d$end == "came-back"
  if (sum(back) < 3 || length(unique(d$miles[back])) < 3) next
  lower <- ifelse(d$miles == 0, NA, d$miles); upper <- ifelse(back, ifelse(is.na(d$until), d$miles, d$until), NA)
  for (model in MODELS) {
    r <- tryCatch(suppressWarnings(survreg(Surv(lower, upper, type = "interval2") ~ 1, weights = d$weight, dist = model,
      control = survreg.control(rel.tolerance = 1e-15, maxiter = 500))), error = function(e) NULL)
    if (is.null(r) || !is.finite(r$loglik[1])) next
    begin(sprintf("%s %s seed %d", model, kind, seed))
    a <- ask(d, "fit", "--model", model, "--interval", "wald", "--life", "0.1,0.5,0.9")
    if (is.null(a)) { wrong("refused"); next }
    e <- part(a, "estimates")
    if (e$error != "") { wrong("no fit: %s", e$error); next }
    same("log likelihood", number(e$log_likelihood), r$loglik[1], 1e-9)
    mu <- unname(coef(r)[1]); s <- r$scale
    if (model == "weibull") { same("scale", number(e$scale), exp(mu), 1e-6); same("shape", number(e$shape), 1 / s, 1e-6) }
    if (model == "lognormal") { same("location", number(e$location), mu, 1e-6); same("sigma", number(e$sigma), s, 1e-6) }
    if (model == "exponential") same("mean", number(e$mean), exp(mu), 1e-6)
    V <- vcov(r); if (model == "exponential") V <- matrix(c(V[1, 1], 0, 0, 0), 2)
    life <- part(a, "life")
    for (i in seq_len(nrow(life))) {
      p <- number(life$p[i]); q <- (if (model == "lognormal") qnorm(p) else log(-log1p(-p))) * s
      se <- sqrt(V[1, 1] + 2 * q * V[1, 2] + q^2 * V[2, 2])
      same(sprintf("life %g", p), number(life$miles[i]), exp(mu + q), 1e-6)
      same(sprintf("life %g lower", p), number(life$lower[i]), exp(mu + q - Z * se), 1e-5)
      same(sprintf("life %g upper", p), number(life$upper[i]), exp(mu + q + Z * se), 1e-5)
    }
  }
}

# Late entry: survival to `entry` given. The likelihood by hand, several starts, then compared at the maximum.
minus <- function(th, d, model) {
  s <- if (model == "exponential") 1 else exp(th[2]); z <- function(t) (log(t) - th[1]) / s
  lS <- if (model == "lognormal") function(z) pnorm(z, lower.tail = FALSE, log.p = TRUE) else function(z) -exp(z)
  lf <- if (model == "lognormal") function(z) dnorm(z, log = TRUE) else function(z) z - exp(z)
  back <- d$end == "came-back"; late <- d$entry > 0
  v <- -(sum(lf(z(d$miles[back])) - log(s) - log(d$miles[back])) + sum(lS(z(d$miles[!back]))) - sum(lS(z(d$entry[late]))))
  if (is.finite(v)) v else 1e10
}
for (seed in seeds(20)) {
  set.seed(100 + seed)
  n <- sample(c(40, 150), 1); t <- 1000 * rexp(n)^(1 / 1.7); e <- ifelse(runif(n) < 0.5, 600 * runif(n), 0); keep <- t > e + 1
  c <- e + 1 + 1500 * runif(n); d <- data.frame(miles = rounded(pmin(t, c)) + 1, end = ifelse(t <= c, "came-back", "holding"), entry = floor(e))[keep, ]
  for (model in MODELS) {
    start <- c(log(mean(d$miles)), -0.3)[seq_len(if (model == "exponential") 1 else 2)]
    best <- NULL
    for (k in 1:4) {
      o <- optim(start + (k - 1) * 0.2, minus, d = d, model = model, method = "BFGS", control = list(reltol = 1e-14, maxit = 500))
      o <- nlm(minus, o$par, d = d, model = model, gradtol = 1e-10, steptol = 1e-12, iterlim = 500)
      if (is.null(best) || o$minimum < best$minimum) best <- o
    }
    begin(sprintf("%s late entry seed %d", model, seed))
    a <- ask(d, "fit", "--model", model)
    if (is.null(a)) { wrong("refused"); next }
    est <- part(a, "estimates")
    if (est$error != "") { wrong("no fit: %s", est$error); next }
    same("log likelihood", number(est$log_likelihood), -best$minimum, 1e-8)
    mine <- if (model == "weibull") c(log(number(est$scale)), -log(number(est$shape))) else if (model == "lognormal") c(number(est$location), log(number(est$sigma))) else log(number(est$mean))
    for (k in seq_along(mine)) same(sprintf("parameter %d", k), mine[k], best$estimate[k], 1e-4, 1e-4)
    # The profile limits: the likelihood with the life held there is z^2/2 below the top.
    life <- part(a, "life")
    for (i in seq_len(nrow(life))) for (side in c("lower", "upper")) {
      x <- number(life[[side]][i]); p <- number(life$p[i]); if (is.na(x)) next
      q <- if (model == "lognormal") qnorm(p) else log(-log1p(-p))
      held <- if (model == "exponential") minus(log(x) - q, d, model) else
        optimize(function(ls) minus(c(log(x) - q * exp(ls), ls), d, model), c(-6, 4), tol = 1e-10)$objective
      same(sprintf("drop at the %s limit of life %g", side, p), held - best$minimum, qchisq(0.95, 1) / 2, 1e-5)
    }
  }
}
finish("fit")
