# SPDX-License-Identifier: GPL-3.0-or-later
# Random lives for the oracles of the non-parametric methods: small and middling tables, few and many ties, comebacks at 0,
# delayed entries, weights, and groups, as drawn from the given seed number.
draw <- function(seed, entries = TRUE, weights = TRUE, ties = TRUE) {
  set.seed(seed)
  n <- sample(c(1, 2, 3, 8, 20, 60, 250), 1)
  scale <- sample(c(5, 40, 30000), 1); fine <- !ties || runif(1) < 0.3
  whole <- function(x) if (fine) x else floor(x)
  t <- whole(scale * rexp(n)); c <- whole(1.3 * scale * rexp(n) + 0.3 * scale)
  d <- data.frame(miles = pmin(t, c), end = ifelse(t <= c, "came-back", "holding"), stringsAsFactors = FALSE)
  if (seed %% 7 == 0) d$end <- "holding"
  if (seed %% 11 == 0) d$miles[d$end == "came-back"] <- scale
  d$entry <- rep(0, n)
  if (entries && seed %% 3 == 0) {
    e <- whole(d$miles * runif(n) * 0.9); late <- runif(n) < 0.6 & e < d$miles
    d$entry[late] <- e[late]
  }
  d$weight <- rep(1, n)
  if (weights && seed %% 4 == 1) d$weight <- sample(1:4, n, TRUE)
  if (weights && seed %% 4 == 2) d$weight <- round(runif(n, 0.05, 3), 3)
  d$group <- sample(sample(c("10", "9", "x"), sample(1:3, 1)), n, TRUE)
  d
}
# R leaves rows out that enter and leave at 0; entering at 0 is the same as entering just before it.
entryOf <- function(d) ifelse(d$entry > 0, d$entry, -1)
late <- function(d) any(d$entry > 0)
groupsOf <- function(d) { g <- unique(d$group); if (all(!is.na(suppressWarnings(as.numeric(g))))) g[order(as.numeric(g))] else sort(g) }
