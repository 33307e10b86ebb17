# SPDX-License-Identifier: GPL-3.0-or-later
# What every *_oracle.R shares: asking milehold-cli and counting agreements. The first argument is the program; a second
# moves the seeds on to tables of their own: 0 (the default) are the ones of the tests, 1 the next so many, and so on.
suppressMessages(library(survival))
invisible(Sys.setlocale("LC_COLLATE", "C"))
options(digits = 15, warn = 1)
CLI <- commandArgs(TRUE)[1]
ROUND <- if (length(commandArgs(TRUE)) > 1) as.integer(commandArgs(TRUE)[2]) else 0L
seeds <- function(n) ROUND * n + seq_len(n)
oracle <- new.env()
oracle$cases <- 0; oracle$values <- 0; oracle$wrong <- 0; oracle$case <- ""

# Writes a lives table, runs a command, gives the answer's CSV as a data frame of text, or NULL when it was refused.
ask <- function(table, ...) {
  file <- tempfile(fileext = ".csv")
  on.exit(unlink(file))
  for (k in names(table)) if (!is.character(table[[k]])) table[[k]] <- ifelse(is.na(table[[k]]), "", sprintf("%.17g", as.numeric(table[[k]])))
  write.table(table, file, sep = ",", row.names = FALSE, quote = FALSE)
  words <- c(...)
  out <- suppressWarnings(system2(CLI, c(words[1], "--csv", file, "--format", "csv", words[-1]), stdout = TRUE, stderr = FALSE))
  if (!is.null(attr(out, "status"))) return(NULL)
  read.csv(text = out, colClasses = "character", check.names = FALSE)
}
part <- function(answer, name) answer[answer$part == name, , drop = FALSE]
number <- function(text) suppressWarnings(as.numeric(text))

begin <- function(label) { oracle$cases <- oracle$cases + 1; oracle$case <- label }
wrong <- function(...) { oracle$wrong <- oracle$wrong + 1; cat("DISAGREES ", oracle$case, ": ", sprintf(...), "\n", sep = "") }
# Equal to `tolerance`, relative with an absolute floor.
same <- function(what, got, want, tolerance, floor = 1e-12) {
  oracle$values <- oracle$values + 1
  if (length(got) != 1 || is.na(got) || abs(got - want) > max(tolerance * abs(want), floor))
    wrong("%s is %s, R has %.12g", what, paste(format(got, digits = 15), collapse = " "), want)
}
finish <- function(name) {
  cat(sprintf("%s: %d cases, %d values compared, %d disagree\n", name, oracle$cases, oracle$values, oracle$wrong))
  quit(status = if (oracle$wrong > 0 || oracle$cases == 0) 1 else 0)
}
