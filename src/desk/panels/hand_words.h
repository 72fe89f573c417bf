// What the hand is about to do, in words.
#pragma once

#include "desk/log_part.h"

#include <string>

namespace ropeline {

/// Empty when nothing is asked for. Keys are said by their caps.
std::string hand_words(const LogPart& part);

} // namespace ropeline
