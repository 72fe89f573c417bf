#include "desk/season_part.h"

#include <utility>

namespace ropeline {

namespace {

constexpr double reading_share = 0.7; ///< of the whole work, about

void begin_work(SeasonPart& part, const SeasonFile& file, const Season& season, SeasonAsk ask) {
    if (!part.reader) part.reader = std::make_shared<SeasonReader>(file.path());
    const bool read = std::exchange(part.stale, false);
    part.working_on = ask;
    part.failed_on.reset();
    part.work = std::make_unique<BackgroundWork<SeasonResult>>(
        5,
        [reader = part.reader, read, before = part.numbers, season, ask,
         known = ReadSeason{part.facts, part.answers, part.films_there}](
            const WorkOnItsWay& way) -> std::optional<SeasonResult> {
            const double begun = read ? reading_share : 0.0;
            std::optional<ReadSeason> now = known;
            if (read) now = reader->read({way.stop, [&](double share) { way.report(begun * share); }});
            if (!now) return std::nullopt;
            if (before && before->facts.same_as(now->facts) && before->of == ask)
                return SeasonResult{*now, before};
            auto numbers =
                season_numbers(now->facts, season, ask,
                               {way.stop, [&](double share) { way.report(begun + (1.0 - begun) * share); }});
            if (!numbers) return std::nullopt;
            return SeasonResult{*now, std::make_shared<const SeasonNumbers>(std::move(*numbers))};
        });
}

void take_work(SeasonPart& part) {
    const auto work = std::exchange(part.work, nullptr);
    part.failed_on = part.working_on; // forgotten below, unless it throws
    std::optional<SeasonResult> result = work->take();
    part.failed_on.reset();
    if (!result) { // stopped: what it was to read is still to be read
        part.stale = true;
        return;
    }
    part.facts = result->read.facts;
    part.answers = std::move(result->read.answers);
    part.films_there = std::move(result->read.films_there);
    part.numbers = std::move(result->numbers);
    part.in_order = ordered(part.numbers->goalies, part.order);
}

} // namespace

void refresh_season(SeasonPart& part, const SeasonFile& file) {
    part.work.reset();
    part.stale = false; // also when it fails: it is told once, not every turn
    ReadSeason now = read_season(file);
    part.facts = now.facts;
    part.answers = std::move(now.answers);
    part.films_there = std::move(now.films_there);
}

std::optional<double> share_worked_out(const SeasonPart& part) {
    return part.work ? std::optional{part.work->share()} : std::nullopt;
}

bool work_out_season(SeasonPart& part, const SeasonFile& file, const Season& season, const FactFilter& only) {
    const SeasonAsk ask{only, part.comparison};
    if (part.work) {
        if (part.working_on != ask) part.work->stop();
        if (!part.work->finished()) return true;
        take_work(part);
    }
    const bool known =
        part.numbers && part.numbers->of == ask && part.numbers->facts.same_as(part.facts) && !part.stale;
    if (known || (part.failed_on == ask && !part.stale)) return false;
    if (!part.stale || file.all_committed()) begin_work(part, file, season, ask);
    return true;
}

} // namespace ropeline
