// The three sides of the desk.
#pragma once

namespace ropeline {

enum class Side { log, study, season };

} // namespace ropeline
