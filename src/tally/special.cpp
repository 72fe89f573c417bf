#include "tally/special.h"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/special_functions/beta.hpp>
#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>

namespace ropeline {

double beta_quantile(double alpha, double beta, double chance) {
    return boost::math::quantile(boost::math::beta_distribution<>{alpha, beta}, chance);
}

double beta_chance(double alpha, double beta, double x) {
    return boost::math::ibeta(alpha, beta, x);
}

double log_gamma(double x) {
    return boost::math::lgamma(x);
}

double student_t_quantile(double degrees, double chance) {
    return boost::math::quantile(boost::math::students_t_distribution<>{degrees}, chance);
}

double digamma(double x) {
    return boost::math::digamma(x);
}

double trigamma(double x) {
    return boost::math::trigamma(x);
}

} // namespace ropeline
