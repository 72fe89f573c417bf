// What is wrong with a set of clicks before any fit is tried.
#pragma once

#include "camera/rink_fit.h"

#include <span>
#include <string>

namespace ropeline {

/// How a message calls the click: its label, or its place on the ice.
std::string name_of(const LandmarkClick& click);
std::string name_of(const CurveClick& click);

/// Small counts as words.
std::string count_word(std::size_t count);

/// Throws FitError (too_few, repeated, collinear, bad_number) with one line: what is wrong and what to do.
void check_clicks(const RinkClicks& clicks, ImageSize image);

} // namespace ropeline
