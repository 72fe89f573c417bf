// The special functions that intervals need, from Boost.Math. One source: its headers cost a compiler seconds.
#pragma once

namespace ropeline {

/// The x below which a Beta(alpha, beta) lies with this chance.
double beta_quantile(double alpha, double beta, double chance);
/// The t below which Student's t of so many degrees of freedom lies with this chance.
double student_t_quantile(double degrees, double chance);
/// Slope of log gamma, and its slope.
double digamma(double x);
double trigamma(double x);

} // namespace ropeline
