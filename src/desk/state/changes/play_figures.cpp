#include "desk/state/changes/play_figures.h"

#include "season/derive.h"
#include "season/own_figures.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>
#include <utility>
#include <vector>

namespace ropeline {

namespace {

/// Skates may be clicked in either order: the goalie faces the puck, so the left skate is the one on the left
/// of the line from the goalie to the puck as the goalie sees it. True when they were swapped.
bool order_skates(Moment& moment) {
    const Mark* left = find_mark(moment, MarkKind::skate_left);
    const Mark* right = find_mark(moment, MarkKind::skate_right);
    const Mark* puck = find_mark(moment, MarkKind::puck);
    if (!left || !right || !puck || !left->ice || !right->ice || !puck->ice) return false;
    const IcePoint middle = (*left->ice + *right->ice) * 0.5;
    if (cross(*puck->ice - middle, *left->ice - middle) >= 0.0) return false;
    for (Mark& mark : moment.marks) {
        if (mark.kind == MarkKind::skate_left) {
            mark.kind = MarkKind::skate_right;
        } else if (mark.kind == MarkKind::skate_right) {
            mark.kind = MarkKind::skate_left;
        }
    }
    return true;
}

void name_fit(LogContext& log, Moment& moment) {
    if (moment.film_id != open_film(log.state)) return; // it rests on what it rested on
    name_fit(log.file, fit_here(log.state, moment.frame), log.state.fits, moment);
}

bool same_fit(const std::optional<RinkFit>& one, const std::optional<RinkFit>& other) {
    if (!one || !other) return one.has_value() == other.has_value();
    return one->image_from_ice == other->image_from_ice && one->radial == other->radial &&
           one->covariance == other->covariance;
}

bool is_marked_here(const LogState& state, const Moment& moment) {
    return moment.film_id == open_film(state) && !moment.marks.empty();
}

/// What judging a play can change of a moment whose marks stay where they are.
bool judged_alike(const Moment& one, const Moment& other) {
    const auto said = [](const Moment& moment) {
        const Judgement judgement = moment.judgement.value_or(Judgement{});
        return std::tuple{moment.judgement.has_value(), judgement.verdict, judgement.advice,
                          judgement.net_left, judgement.on_what_came};
    };
    const auto turned = [](const Moment& moment) {
        return moment.order ? std::optional{moment.order->turn_share} : std::nullopt;
    };
    return said(one) == said(other) && one.set == other.set && turned(one) == turned(other);
}

} // namespace

void work_out(const LogState& state, const Shot& shot, Moment& moment) {
    const FitHere here = fit_for(state, shot, moment);
    const RuleBookId rules = here.key ? here.key->rules : game_rules(state);
    if (!here.fit) {
        // Positions that came from a fit that is gone or lost would be stale; those that came without pixels
        // stay.
        for (Mark& mark : moment.marks) {
            if (!mark.at) continue;
            mark.ice.reset();
            mark.sigma.reset();
        }
    }
    derive(moment, here.fit ? &*here.fit : nullptr, rule_book(rules),
           parameters_of(state.season.parameters, state.goalies, shot.goalie_id));
}

void judge_play(const LogState& state, ShotEntry& entry) {
    const Moment* about = main_moment(entry);
    if (!about) return;
    judge(entry.shot, entry.moments, rule_book(rules_for(state, *about)),
          parameters_of(state.season.parameters, state.goalies, entry.shot.goalie_id));
}

namespace {

void judge_and_find_firmness(const LogState& state, ShotEntry& entry) {
    judge_play(state, entry);
    const Moment* about = main_moment(entry);
    if (about)
        find_firmness(entry.shot, entry.moments, rule_book(rules_for(state, *about)),
                      parameters_of(state.season.parameters, state.goalies, entry.shot.goalie_id),
                      state.season.level);
}

} // namespace

void keep_moment(LogContext& log, const std::string& name) {
    ShotEntry* entry = shot_to_change(log.state);
    Moment* moment = moment_to_change(log.state);
    if (!moment) return;
    work_out(log.state, entry->shot, *moment);
    if (order_skates(*moment)) work_out(log.state, entry->shot, *moment);
    judge_and_find_firmness(log.state, *entry);
    log.file.change(fmt::format("{}, {}", name, shot_name(log.state)), [&] {
        name_fit(log, *moment);
        for (Moment& one : entry->moments)
            log.file.put(one);
        log.file.put(entry->shot);
    });
    if (moment->film_id == open_film(log.state)) log.state.fits = log.file.rink_fits(moment->film_id);
}

void keep_play(LogContext& log, const std::string& name, ShotEntry& entry,
               const std::function<void()>& also) {
    judge_and_find_firmness(log.state, entry);
    log.file.change(name, [&] {
        also();
        for (Moment& moment : entry.moments)
            log.file.put(moment);
    });
}

std::map<Id, RinkThere> rink_of_moments(const LogState& state) {
    std::map<Id, RinkThere> all;
    for (const ShotEntry& entry : state.shots) {
        for (const Moment& moment : entry.moments) {
            if (!is_marked_here(state, moment)) continue;
            FitHere here = fit_here(state, moment.frame);
            all[moment.id] = {here.source, here.key ? here.key->id : Id{}, std::move(here.fit)};
        }
    }
    return all;
}

std::set<Id> with_another_rink(const std::map<Id, RinkThere>& before, const LogState& now) {
    std::set<Id> moments;
    for (const auto& [id, rink] : rink_of_moments(now)) {
        const auto known = before.find(id);
        if (known == before.end() || known->second.source != rink.source ||
            known->second.key_id != rink.key_id || !same_fit(known->second.fit, rink.fit))
            moments.insert(id);
    }
    return moments;
}

void work_out_again(LogContext& log, const std::set<Id>& moments) {
    for (ShotEntry& entry : log.state.shots) {
        const std::vector<Moment> before = entry.moments;
        bool any = false;
        for (Moment& moment : entry.moments) {
            if (!moments.contains(moment.id)) continue;
            work_out(log.state, entry.shot, moment);
            name_fit(log, moment);
            any = true;
        }
        if (!any) continue;
        judge_play(log.state, entry);
        for (std::size_t index = 0; index < before.size(); ++index) {
            Moment& moment = entry.moments[index];
            if (moments.contains(moment.id) || !judged_alike(before[index], moment)) log.file.put(moment);
        }
    }
}

std::string shots_off_the_ice(const LogState& state) {
    std::string shots;
    for (std::size_t index = 0; index < state.shots.size(); ++index) {
        const bool off = std::ranges::any_of(state.shots[index].moments, [&](const Moment& moment) {
            return is_marked_here(state, moment) && fit_here(state, moment.frame).fit &&
                   std::ranges::any_of(moment.marks, [](const Mark& mark) { return mark.at && !mark.ice; });
        });
        if (off) shots += fmt::format("{}shot {}", shots.empty() ? "" : ", ", index + 1);
    }
    return shots;
}

} // namespace ropeline
