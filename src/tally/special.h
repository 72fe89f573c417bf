// The special functions that intervals need, from Boost.Math. One source: its headers cost a compiler seconds.
#pragma once

namespace ropeline {

/// The x below which a Beta(alpha, beta) lies with this chance.
double beta_quantile(double alpha, double beta, double chance);
/// The chance that a Beta(alpha, beta) lies below x.
double beta_chance(double alpha, double beta, double x);
/// The t below which Student's t of so many degrees of freedom lies with this chance.
double student_t_quantile(double degrees, double chance);
/// Log gamma, its slope, and the slope of that.
double log_gamma(double x);
double digamma(double x);
double trigamma(double x);

} // namespace ropeline
