#include "desk/state/changes/figures.h"

#include "desk/state/reload.h"
#include "season/derive.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

void put_in_force(LogContext& log, Level level, const Parameters& parameters) {
    const int count = set_parameters(log.file, level, parameters, log.progress);
    reload(log.file, log.state);
    if (count > 0) log.tell(fmt::format("{} moments were worked out again. [undo] takes it back.", count));
}

} // namespace

void handle(LogContext& log, const SetLevel& set) {
    put_in_force(log, set.level, parameters_for(set.level));
}

void handle(LogContext& log, const SetParameter& set) {
    const ParameterFact* fact = find_parameter(set.key);
    if (!fact) return;
    if (!(set.value >= fact->least && set.value <= fact->most)) {
        log.tell(fmt::format("{}: {} {} is no such figure; it lies between {} and {}.", fact->label,
                             set.value, fact->unit, fact->least, fact->most),
                 true);
        return;
    }
    Parameters parameters = log.state.season.parameters;
    set_parameter(parameters, set.key, set.value);
    put_in_force(log, log.state.season.level, parameters);
}

} // namespace ropeline
