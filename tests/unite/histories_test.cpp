// Seasons that were copied, worked on, undone and united in random order by several coaches.
#include "season/counted_rows.h"
#include "unite/two_coaches.h"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <rapidcheck.h>

#include <array>
#include <cstdlib>
#include <iostream>
#include <set>
#include <sstream>

namespace ropeline {
namespace {

using namespace sample;

constexpr std::size_t coaches = 3;

class History {
public:
    History() {
        shared_ = make_shared_season(path(0));
        for (std::size_t i = 1; i < coaches; ++i)
            hand_copy(path(0), path(i));
    }

    std::filesystem::path path(std::size_t coach) const { return folder_ / fmt::format("{}.season", coach); }

    /// One thing done at one coach's desk.
    void act(std::size_t coach, unsigned what, unsigned which) {
        edit(path(coach), [&](SeasonFile& file) {
            const auto shots = file.shots(shared_.ids.game);
            const auto pick = [&] { return shots.empty() ? Shot{} : shots[which % shots.size()]; };
            Shot shot = pick();
            if (what % 8 == 0 || shot.id.empty()) return add_shot(file, which);
            switch (what % 8) {
            case 1:
                shot.outcome = static_cast<Outcome>(which % 7);
                shot.tags = {fmt::format("tag {}", which % 3)};
                return file.put(shot);
            case 2:
                return file.remove_shot(shot.id);
            case 3:
                return change_moment(file, shot, which);
            case 4:
                file.undo();
                return;
            case 5:
                file.redo();
                return;
            case 6:
                return change_people(file, which);
            default:
                return add_clock_mark(file, which);
            }
        });
    }

    /// What `first` and `second` make, in the place of `first`, the newer of each conflict.
    void unite(std::size_t first, std::size_t second) {
        const auto united = folder_ / "united.season";
        merge_seasons(path(first), path(second), united, always(Keep::newer));
        std::filesystem::rename(united, path(first));
    }

    /// All of them in this order.
    std::string all_in(const std::array<std::size_t, coaches>& order) const {
        auto so_far = path(order[0]);
        for (std::size_t i = 1; i < coaches; ++i) {
            const auto united = folder_ / fmt::format("all-{}.season", i);
            std::filesystem::remove(united);
            merge_seasons(so_far, path(order[i]), united, always(Keep::newer));
            so_far = united;
        }
        SQLite::Database db{so_far.string(), SQLite::OPEN_READONLY};
        RC_ASSERT(shots_counted_wrongly(db) == 0);
        RC_ASSERT(!has_shots_to_count(db));
        const std::string all = dump(so_far) + stamps(so_far);
        const auto again = folder_ / "again.season";
        for (const std::size_t coach : order) {
            std::filesystem::remove(again);
            merge_seasons(so_far, path(coach), again, always(Keep::mine));
            const bool changes_nothing = dump(again) + stamps(again) == all;
            RC_ASSERT(changes_nothing);
        }
        return all;
    }

private:
    void add_shot(SeasonFile& file, unsigned which) const {
        Shot one = shot(shared_.ids, 100 + which % 50);
        file.change("new shot", [&] {
            file.put(one);
            Moment marked = moment(one.id, shared_.ids, 1.0 + 0.1 * (which % 5));
            file.put(marked);
            recompute(file); // as the desk does: what is marked has its figures
        });
    }

    static void change_moment(SeasonFile& file, const Shot& shot, unsigned which) {
        auto moments = file.moments(shot.id);
        if (moments.empty()) return;
        Moment& moment = moments.front();
        if (which % 3 == 0) return file.remove_moment(moment.id);
        if (which % 3 == 1) {
            moment.overruled = Verdict::sat_back;
            moment.overrule_reason = fmt::format("reason {}", which % 4);
        } else {
            moment.marks[0].ice = IcePoint{0.1, 1.0 + 0.01 * (which % 20)};
        }
        file.change("moment", [&] {
            file.put(moment);
            recompute(file);
        });
    }

    static void change_people(SeasonFile& file, unsigned which) {
        if (which % 2 == 0) {
            Goalie goalie = file.goalies().front();
            goalie.name = fmt::format("Ilse {}", which % 5);
            return file.put(goalie);
        }
        Team team{{}, fmt::format("Team {}", which % 3)};
        file.put(team);
    }

    void add_clock_mark(SeasonFile& file, unsigned which) const {
        const auto marks = file.clock_marks(shared_.ids.film);
        const std::int64_t frame = 10 * (which % 6);
        if (std::ranges::find(marks, frame, &ClockMark::frame) != marks.end()) return;
        ClockMark mark{{},
                       shared_.ids.film,
                       frame,
                       512 * frame,
                       static_cast<double>(frame) / 30.0,
                       2,
                       900.0 - static_cast<double>(frame) / 30.0,
                       true};
        file.put(mark);
    }

    Folder folder_;
    Shared shared_;
};

using Acts = std::vector<std::array<unsigned, 3>>; ///< who, what, which

/// The lines that only one of two has.
std::string apart(const std::string& one, const std::string& other) {
    const auto lines_of = [](const std::string& all) {
        std::multiset<std::string> lines;
        std::istringstream in(all);
        for (std::string line; std::getline(in, line);)
            lines.insert(line);
        return lines;
    };
    const auto first = lines_of(one), second = lines_of(other);
    std::string said;
    for (const auto& line : first)
        if (!second.contains(line)) said += "< " + line + "\n";
    for (const auto& line : second)
        if (!first.contains(line)) said += "> " + line + "\n";
    return said;
}

void check_that_order_does_not_matter(const Acts& acts) {
    History history;
    for (const auto& [who, what, which] : acts) {
        if (what % 11 == 10)
            history.unite(who % coaches, which % coaches);
        else
            history.act(who % coaches, what % 11, which % 1000);
    }
    const std::string all = history.all_in({0, 1, 2});
    const std::string backwards = apart(all, history.all_in({2, 1, 0}));
    const std::string mixed = apart(all, history.all_in({1, 0, 2}));
    std::cerr << backwards << mixed;
    RC_ASSERT(backwards.empty());
    RC_ASSERT(mixed.empty());
}

int histories() {
    return std::getenv("ROPELINE_LONG_TESTS") ? 1000 : 8 / fewer;
}

} // namespace

TEST_CASE(
    "however coaches copied, worked, undid and united, the order in which all is united does not matter") {
    rc::detail::TestParams rounds = rc::detail::configuration().testParams;
    rounds.maxSuccess = histories();
    rounds.maxSize = 14;
    if (!std::getenv("ROPELINE_LONG_TESTS"))
        rounds.seed = 1; // the same few each time; other ones in a long run
    rounds.disableShrinking =
        true; // each history takes half a second, and a shorter one is another in its times
    const auto result =
        rc::detail::checkTestable(check_that_order_does_not_matter, rc::detail::TestMetadata{}, rounds);
    const bool holds = result.is<rc::detail::SuccessResult>();
    if (!holds) rc::detail::printResultMessage(result, std::cerr);
    CHECK(holds);
}

TEST_CASE("histories whose end once hung on the order end alike in any") {
    const std::array<Acts, 5> known{{
        {{0, 7, 9},
         {3, 14, 4},
         {9, 6, 6},
         {8, 15, 2},
         {12, 13, 3},
         {10, 8, 6},
         {6, 11, 1},
         {5, 8, 14},
         {13, 1, 10},
         {7, 1, 14},
         {10, 13, 1},
         {13, 0, 4}},
        {{0, 3, 1}, {1, 1, 0}, {2, 3, 1}, {0, 1, 2}, {1, 0, 0}, {2, 2, 1}, {2, 1, 2}},
        {{0, 2, 0}, {1, 1, 3}, {2, 3, 0}},            // a shot removed, changed, its moment removed
        {{0, 3, 0}, {1, 3, 1}, {0, 2, 0}, {2, 1, 5}}, // a moment removed and its shot, both changed
        {{2, 3, 8},
         {2, 0, 13},
         {0, 3, 6},
         {1, 10, 2},
         {0, 1, 4},
         {1, 3, 10}}, // a moment removed, changed twice
    }};
    for (const Acts& acts : known)
        CHECK_NOTHROW(check_that_order_does_not_matter(acts));
}

} // namespace ropeline
