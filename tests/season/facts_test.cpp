// shot_facts() against the view of that name.
#include "season/derive.h"
#include "season/facts_of_view.h"
#include "season/sample.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <iostream>

namespace ropeline {
namespace {

using sample::Folder;

bool flip() {
    return *rc::gen::arbitrary<bool>();
}

template <class Enum>
std::optional<Enum> maybe(int count) {
    const int chosen = *rc::gen::inRange(0, count + 1);
    return chosen == count ? std::nullopt : std::optional{static_cast<Enum>(chosen)};
}

Mark mark(MarkKind kind) {
    Mark one;
    one.kind = kind;
    if (*rc::gen::inRange(0, 5) != 0) {
        one.ice = IcePoint{0.1 * *rc::gen::inRange(-40, 40), 0.1 * *rc::gen::inRange(1, 90)};
        one.sigma = IceCovariance{1e-3, 0.0, 1e-3};
    }
    one.lane = flip() ? Lane::open : Lane::contested;
    return one;
}

std::vector<Mark> marks() {
    std::vector<Mark> all;
    if (flip()) all.push_back(mark(MarkKind::goalie));
    if (flip()) all.push_back(mark(MarkKind::skate_left));
    if (flip()) all.push_back(mark(MarkKind::skate_right));
    all.push_back(mark(MarkKind::puck));
    const int threats = *rc::gen::inRange(0, 3);
    for (int i = 0; i < threats; ++i)
        all.push_back(mark(MarkKind::threat));
    if (threats > 0 && flip()) all.back().took = true;
    return all;
}

void put_play(SeasonFile& file, const sample::Ids& ids, const Id& before) {
    Shot shot = sample::shot(ids, *rc::gen::inRange(0, 300));
    if (flip()) shot.goalie_id.clear();
    if (flip()) shot.film_id.clear();
    shot.outcome = maybe<Outcome>(7);
    shot.read = maybe<Read>(2);
    shot.came = maybe<NextAction>(4);
    shot.situation = maybe<Situation>(6);
    if (flip()) shot.period.reset();
    if (flip()) shot.shooter_number = *rc::gen::inRange(0, 100);
    if (flip()) shot.tags = {"b", "a", "ü"};
    if (flip()) shot.rebound_shot_id = before;
    shot.details.set(Detail::numbers, *rc::gen::inRange(0, 10));
    shot.details.set(Detail::net_place, *rc::gen::inRange(0, 7));
    file.put(shot);
    const int count = *rc::gen::inRange(0, 4);
    Id first;
    for (int i = 0; i < count; ++i) {
        Moment moment = sample::moment(shot.id, ids);
        moment.ordinal = *rc::gen::inRange(0, 3);
        moment.kind = static_cast<MomentKind>(*rc::gen::inRange(0, 5));
        moment.marks = marks();
        if (i > 0 && *rc::gen::inRange(0, 4) == 0) moment.same_as = first;
        if (flip()) moment.overruled = Verdict::sat_back;
        moment.details.set(Detail::feet, *rc::gen::inRange(0, 3));
        moment.details.set(Detail::sight, *rc::gen::inRange(0, 4));
        derive(moment, nullptr, rule_book(RuleBookId::iihf), parameters_for(Level::junior));
        file.put(moment);
        if (first.empty()) first = moment.id;
    }
}

} // namespace

TEST_CASE("the facts of all shots are those of the view, whatever was logged and left out") {
    const auto round = [] {
        const Folder folder;
        SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
        sample::Ids ids = sample::fill(file);
        file.change("plays", [&] {
            Game second{{}, flip() ? "2026-10-02" : "", ids.team, {}, RuleBookId::iihf, ""};
            file.put(second);
            Id before;
            const int count = *rc::gen::inRange(1, 8);
            for (int i = 0; i < count; ++i) {
                sample::Ids of = ids;
                if (flip()) of.game = second.id;
                put_play(file, of, before);
                before = file.shots(of.game).front().id;
            }
            recompute(file);
        });
        const bool same = file.shot_facts() == sample::facts_of_view(file.path());
        RC_ASSERT(same);
    };
    rc::detail::TestParams rounds = rc::detail::configuration().testParams;
    rounds.maxSuccess = std::getenv("ROPELINE_LONG_TESTS") ? 500 : 40 / sample::fewer;
    const auto result = rc::detail::checkTestable(round, rc::detail::TestMetadata{}, rounds);
    const bool holds = result.is<rc::detail::SuccessResult>();
    if (!holds) rc::detail::printResultMessage(result, std::cerr);
    CHECK(holds);
}

TEST_CASE("facts read inside a change are those of the change") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    file.change("shot", [&] {
        Shot shot = sample::shot(ids, 40);
        file.put(shot);
        CHECK(file.shot_facts().size() == 1);
    });
    CHECK(file.shot_facts() == sample::facts_of_view(file.path()));
}

} // namespace ropeline
