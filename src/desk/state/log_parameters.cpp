// The season's level of play and the figures behind the model: a change works every shot out again.
#include "desk/state/log_book.h"

#include "season/derive.h"

#include <fmt/core.h>

namespace ropeline {

void LogBook::keep_parameters(const std::string& name, Season season) {
    int count = 0;
    file_.change(name, [&] {
        file_.put(season);
        count = recompute(file_);
    });
    reload();
    tell(fmt::format("Changed: {}. {} moments were worked out again; Ctrl Z takes it back.", name, count));
}

void LogBook::set_level(Level level) {
    Season season = state_.season;
    season.level = level;
    season.parameters = parameters_for(level);
    keep_parameters(fmt::format("level of play, {}", key_of(level)), season);
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
    Season season = state_.season;
    ropeline::set_parameter(season.parameters, wanted.key, wanted.value);
    keep_parameters(fmt::format("{}, {} {}", fact->label, wanted.value, fact->unit), season);
}

} // namespace ropeline
