// Several films of one game, and the two nets of one rink.
#include "desk/state/log_book.h"

#include "camera/turned.h"
#include "season/game_clock.h"

#include <fmt/core.h>

#include <algorithm>
#include <cstdlib>
#include <optional>

namespace ropeline {

namespace {

constexpr const char* fit_is_being_made =
    "A rink fit is being made on this film: [take_shot] keeps it, [put_down] leaves it.";

} // namespace

int film_number(const LogState& state, const Id& film_id) {
    const auto found = std::ranges::find(state.films, film_id, &Film::id);
    return found == state.films.end() ? 0 : static_cast<int>(found - state.films.begin()) + 1;
}

/// Goes to a frame of any film of the game.
void LogBook::show(const Id& film_id, std::int64_t frame) {
    const int number = film_number(state_, film_id);
    if (number == 0) return;
    if (film_id != open_film(state_)) {
        if (state_.fit) {
            tell(fit_is_being_made, true);
            return;
        }
        turn_to_film(static_cast<std::size_t>(number) - 1);
    }
    state_.jump = frame;
    state_.jump_s.reset();
}

/// Switches films with the shot left open: to the same game clock where both films know it, else to where the
/// film was left.
void LogBook::show_film(std::size_t index, const FrameAt& at) {
    if (index >= state_.films.size() || state_.film == index) return;
    if (state_.fit) {
        tell(fit_is_being_made, true);
        return;
    }
    const auto now = game_time_at(clock_marks_of(state_, open_film(state_)), at.film_s);
    turn_to_film(index);
    const Id& film_id = open_film(state_);
    const auto same =
        now ? film_s_at(clock_marks_of(state_, film_id), now->period, now->clock_s) : std::nullopt;
    if (same) {
        state_.jump_s = same;
    } else if (const auto left = state_.left_at.find(film_id); left != state_.left_at.end()) {
        state_.jump = left->second;
    }
    tell(fmt::format("Film {} of {}{}.", index + 1, state_.films.size(),
                     same ? ", at the same game clock" : ""));
}

void LogBook::show_film_by(int steps, const FrameAt& at) {
    if (state_.films.size() < 2) {
        tell("This game has one film: drop another on the desk, or press [games], to add it.");
        return;
    }
    const int count = static_cast<int>(state_.films.size());
    const int now = state_.film ? static_cast<int>(*state_.film) : 0;
    show_film(static_cast<std::size_t>(((now + steps) % count + count) % count), at);
}

namespace {

bool sees(const RinkFit& fit, IcePoint place, ImageSize image) {
    const auto seen = image_at(fit, place);
    return seen && in_picture(*seen, image);
}

/// Whether both goalies defend the same net at the same time: one of them, or both of one team. Nothing when
/// that is not known.
std::optional<bool> same_net(const LogState& state, const Id& one, const Id& other) {
    if (one == other) return true;
    const Goalie* a = goalie_of(state, one);
    const Goalie* b = goalie_of(state, other);
    if (!a || !b || a->team_id.empty() || b->team_id.empty()) return std::nullopt;
    return a->team_id == b->team_id;
}

/// The shot on this film that lies nearest before the fresh one and tells which net is whose, else the first
/// after it.
const Shot* shot_before(const LogState& state, const Shot& fresh) {
    const Shot* nearest = nullptr;
    for (const ShotEntry& entry : state.shots) {
        const Shot& shot = entry.shot;
        if (shot.film_id != fresh.film_id || !same_net(state, shot.goalie_id, fresh.goalie_id)) continue;
        if (!nearest || shot.frame <= fresh.frame) nearest = &shot;
    }
    return nearest;
}

} // namespace

bool likely_far_net(const LogState& state, const Shot& fresh, ImageSize image) {
    if (const FitHere here = fit_here(state, fresh.frame); here.fit) {
        const RuleBook& rules = rule_book(here.key->rules);
        const bool near = sees(*here.fit, {0.0, 0.0}, image);
        const bool far = sees(*here.fit, turned(IcePoint{0.0, 0.0}, rules), image);
        if (near != far) return far;
    }
    const Shot* before = shot_before(state, fresh);
    if (!before) return false;
    const bool both_known = before->period && fresh.period;
    const bool ends_changed = both_known && std::abs(*fresh.period - *before->period) % 2 == 1;
    const bool other_team = !*same_net(state, before->goalie_id, fresh.goalie_id);
    return before->far_net != (ends_changed != other_team);
}

void LogBook::turn_ends() {
    ShotEntry* entry = chosen();
    if (!entry) {
        tell("No shot is open: pick one with [previous_shot] and [next_shot], then [turn_ends] turns it to "
             "the other net.",
             true);
        return;
    }
    entry->shot.far_net = !entry->shot.far_net;
    for (Moment& moment : entry->moments)
        rederive(entry->shot, moment);
    judge_play(*entry);
    const std::string net = entry->shot.far_net ? "far" : "near";
    file_.change(fmt::format("{} net, {}", net, shot_name()), [&] {
        file_.put(entry->shot);
        for (Moment& moment : entry->moments)
            file_.put(moment);
    });
    tell(fmt::format("The goalie of {} defends the {} net of the rink fit.", shot_name(), net));
    if (const Moment* about = main_moment(*entry)) warn_of_far_net(*entry, *about);
}

} // namespace ropeline
