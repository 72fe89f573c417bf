# Works the figures of random seasons out again: Rscript against_r.R SEASONS.csv FIGURES.txt
# In  season,goal,out,layer,clearance,distance,pass: one line an attempt. Out  a line a season, as r_test.cpp reads it.
suppressMessages(library(brglm2))
given <- commandArgs(trailingOnly = TRUE)
attempts <- read.csv(given[1])
exact <- brglmControl(epsilon = 1e-13, maxit = 10000, type = "AS_mean")
figures <- function(d) {
  out <- d[d$out == 1, ]; inside <- d[d$out == 0, ]
  x1 <- sum(out$goal); n1 <- nrow(out); x2 <- sum(inside$goal); n2 <- nrow(inside)
  share <- prop.test(x1 + x2, n1 + n2, correct = FALSE)$conf.int
  one <- prop.test(x1, n1, correct = FALSE)$conf.int; two <- prop.test(x2, n2, correct = FALSE)$conf.int
  p1 <- x1 / n1; p2 <- x2 / n2
  difference <- p1 - p2 + c(-sqrt((p1 - one[1])^2 + (two[2] - p2)^2), sqrt((one[2] - p1)^2 + (p2 - two[1])^2))
  fisher <- fisher.test(matrix(c(x1, n1 - x1, x2, n2 - x2), 2))$p.value
  plain <- glm(goal ~ clearance + distance + pass, binomial, d, control = glm.control(epsilon = 1e-15, maxit = 200))
  firth <- glm(goal ~ clearance + distance + pass, binomial, d, method = "brglmFit", control = exact)
  # The constant once more, the slopes held (FLIC).
  rest <- as.vector(model.matrix(firth)[, -1] %*% coef(firth)[-1])
  constant <- glm(goal ~ 1 + offset(rest), binomial, d, control = glm.control(epsilon = 1e-15, maxit = 200))
  layers <- lapply(split(d, d$layer), function(l) {
    m1 <- sum(l$out == 1); m2 <- sum(l$out == 0)
    if (m1 == 0 || m2 == 0) return(c(0, 0, 0, 0))
    y1 <- sum(l$goal[l$out == 1]); y2 <- sum(l$goal[l$out == 0]); m <- m1 + m2
    c(m1 * m2 / m, (y1 * m2 - y2 * m1) / m, (m1^2 * y2 - m2^2 * y1 + m1 * m2 * (m2 - m1) / 2) / m^2,
      (y1 * (m2 - y2) + y2 * (m1 - y1)) / (2 * m))
  })
  s <- Reduce(`+`, layers); value <- s[2] / s[1]
  excess <- function(x) (value - x)^2 - qnorm(.975)^2 * (x * s[3] + s[4]) / s[1]^2
  low <- uniroot(excess, c(-1, value), tol = 1e-14)$root; high <- uniroot(excess, c(value, 1), tol = 1e-14)$root
  quantiles <- qbeta(c(.025, .975), 8 + x1, 72 + n1 - x1)
  c(share, difference, fisher, coef(plain), coef(firth), sqrt(diag(vcov(firth))), coef(constant), value, low, high, quantiles)
}
lines <- by(attempts, attempts$season, function(d) paste(sprintf("%.17g", figures(d)), collapse = " "))
writeLines(as.character(unlist(lines)), given[2])
