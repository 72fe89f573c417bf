#include "tally/special.h"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>

namespace ropeline {

double beta_quantile(double alpha, double beta, double chance) {
    return boost::math::quantile(boost::math::beta_distribution<>{alpha, beta}, chance);
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
