#include "desk/state/season_reader.h"

#include "desk/state/shot_entry.h"

#include <algorithm>

namespace ropeline {

std::vector<AnsweredMoment> answered_moments(const SeasonFile& file, const std::vector<ShotFact>& facts) {
    std::vector<AnsweredMoment> all;
    for (const Answer& answer : file.answers()) {
        AnsweredMoment one{answer, {}, {}};
        const auto fact = std::ranges::find(facts, answer.moment_id, &studied_moment);
        if (fact != facts.end()) {
            one.came = fact->came;
            for (const Moment& moment : file.moments(fact->shot_id)) {
                const Mark* puck =
                    moment.id == answer.moment_id ? find_mark(moment, MarkKind::puck) : nullptr;
                if (puck) one.puck = puck->ice;
            }
        }
        all.push_back(std::move(one));
    }
    return all;
}

std::optional<ReadSeason> SeasonReader::read(const WorkOnItsWay& way) {
    if (!file_) file_.emplace(SeasonFile::open_to_read(path_));
    way.report(0.2);
    const std::int64_t edition = file_->edition();
    if (last_ && edition == edition_) return last_;
    std::vector<ShotFact> facts = file_->shot_facts();
    if (way.stop.stop_requested()) return std::nullopt;
    ReadSeason made{SharedFacts{std::move(facts)}, {}};
    made.answers = answered_moments(*file_, made.facts);
    way.report(1.0);
    edition_ = edition;
    last_ = made;
    return made;
}

} // namespace ropeline
