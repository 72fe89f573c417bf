// The season's level of play and the figures behind the model: a change works every shot out again.
#include "desk/state/log_book.h"

#include "season/derive.h"

#include <fmt/core.h>

namespace ropeline {

void LogBook::put_in_force(Level level, const Parameters& parameters) {
    const int count = set_parameters(file_, level, parameters, progress_);
    reload();
    if (count > 0) tell(fmt::format("{} moments were worked out again. [undo] takes it back.", count));
}

void LogBook::set_parameter(const SetParameter& wanted) {
    const ParameterFact* fact = find_parameter(wanted.key);
    if (!fact) return;
    if (!(wanted.value >= fact->least && wanted.value <= fact->most)) {
        tell(fmt::format("{}: {} {} is no such figure; it lies between {} and {}.", fact->label, wanted.value,
                         fact->unit, fact->least, fact->most),
             true);
        return;
    }
    Parameters parameters = state_.season.parameters;
    ropeline::set_parameter(parameters, wanted.key, wanted.value);
    put_in_force(state_.season.level, parameters);
}

} // namespace ropeline
