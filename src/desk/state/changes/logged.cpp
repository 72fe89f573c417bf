#include "desk/state/changes/logged.h"

#include "desk/state/changes/play_figures.h"
#include "desk/state/reload.h"
#include "season/derive.h"
#include "season/play.h"
#include "season/trimmed.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>

namespace ropeline {

namespace {

void keep_detail(LogContext& log, Detail detail, const Details& details) {
    const auto label = label_of(details, detail);
    log.tell(fmt::format("{}: {}.", fact_of(detail).label, label.empty() ? "not known" : label));
}

void put_in_moment(LogContext& log, Detail detail, int choice) {
    Moment* moment = moment_to_change(log.state);
    if (!moment) return log.tell(no_shot_is_open, true);
    if (!is_step(*moment)) {
        log.tell("That belongs to the first camera's moment: pick it with [previous_moment] and say it "
                 "there.",
                 true);
        return;
    }
    moment->details.set(detail, choice);
    const Details details = moment->details;
    keep_moment(log, std::string{fact_of(detail).label});
    keep_detail(log, detail, details);
}

void put_in_shot(LogContext& log, Detail detail, int choice) {
    ShotEntry* entry = shot_to_change(log.state);
    if (!entry) return log.tell(no_shot_is_open, true);
    entry->shot.details.set(detail, choice);
    log.file.change(fmt::format("{}, {}", fact_of(detail).label, shot_name(log.state)),
                    [&] { log.file.put(entry->shot); });
    keep_detail(log, detail, entry->shot.details);
}

void put(LogContext& log, Detail detail, int choice) {
    if (fact_of(detail).of_moment) return put_in_moment(log, detail, choice);
    put_in_shot(log, detail, choice);
}

int chosen_now(const LogState& state, Detail detail) {
    if (!fact_of(detail).of_moment) {
        const ShotEntry* entry = chosen_shot(state);
        return entry ? entry->shot.details.of(detail) : 0;
    }
    const Moment* moment = moment_in_hand(state);
    return moment ? moment->details.of(detail) : 0;
}

/// 0 to 99, as on a sweater (USA Hockey, rule 301(a): 0 to 99; from memory).
std::optional<int> number_in(std::string_view text) {
    int number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{} || end != text.data() + text.size() || number < 0 || number > 99)
        return std::nullopt;
    return number;
}

/// False when it is none of the kind.
bool write_into(Shot& shot, ShotText field, std::string_view text) {
    switch (field) {
    case ShotText::tags:
        shot.tags = tags_in(text);
        return true;
    case ShotText::drill:
        shot.drill = text;
        return true;
    case ShotText::shooter_number:
        shot.shooter_number = number_in(text);
        return text.empty() || shot.shooter_number;
    }
    return false;
}

} // namespace

void choose_detail(LogContext& log, Detail detail, int number) {
    put(log, detail, chosen_now(log.state, detail) == number ? 0 : number);
    log.state.field = card_field(detail);
}

void handle(LogContext& log, const TurnDetail& turn) {
    put(log, turn.detail, chosen_now(log.state, turn.detail) + 1); // past the last choice: not known
}

void handle(LogContext& log, const JoinRebound&) {
    ShotEntry* entry = shot_to_change(log.state);
    if (!entry) return log.tell(no_shot_is_open, true);
    Shot& shot = entry->shot;
    const auto keep = [&] {
        log.file.change("rebound, " + shot_name(log.state), [&] { log.file.put(shot); });
    };
    if (!shot.rebound_shot_id.empty()) {
        shot.rebound_shot_id.clear();
        keep();
        return log.tell("Its rebound led to no other shot.");
    }
    const ShotEntry* next = nullptr;
    for (const ShotEntry& other : log.state.shots) {
        const bool later = other.shot.film_id == shot.film_id && other.shot.frame > shot.frame;
        if (later && (!next || other.shot.frame < next->shot.frame)) next = &other;
    }
    if (!next || shot.film_id.empty()) {
        log.tell("No later shot is logged on this film: log the one after the rebound with [new_shot], then "
                 "come back.",
                 true);
        return;
    }
    shot.rebound_shot_id = next->shot.id;
    keep();
    log.tell(fmt::format("Its rebound led to shot {}.", next - log.state.shots.data() + 1));
}

void handle(LogContext& log, const WriteShotText& write) {
    ShotEntry* entry = shot_to_change(log.state);
    if (!entry) return log.tell(no_shot_is_open, true);
    const std::string text{trimmed(write.text)};
    if (text == written(entry->shot, write.field)) return;
    Shot shot = entry->shot;
    if (!write_into(shot, write.field, text)) {
        log.tell(fmt::format("\"{}\" is no number on a sweater: type 0 to 99.", text), true);
        return;
    }
    log.file.change(fmt::format("{}, {}", fact_of(write.field).label, shot_name(log.state)),
                    [&] { log.file.put(shot); });
    entry->shot = std::move(shot);
    log.state.tags = log.file.tags();
    log.tell_nothing();
}

void handle(LogContext& log, const TurnAsk& turn) {
    LogState& state = log.state;
    const auto all = askable();
    if (std::ranges::find(all, std::string_view{turn.field}, &AskFact::key) == all.end()) return;
    log.file.put_ask(turn.field, !state.asks.contains(turn.field));
    state.asks = log.file.asks();
    const auto shown = shown_fields(state.asks);
    if (std::ranges::find(shown, state.field) == shown.end()) state.field = CardField::read;
}

void handle(LogContext& log, const NameReviewer& name) {
    Season season = log.file.season();
    season.reviewer = trimmed(name.name);
    log.file.change("who tags", [&] { log.file.put(season); });
    log.state.season = log.file.season();
}

void handle(LogContext& log, const MeasureGoalie& measure) {
    const auto goalie = std::ranges::find(log.state.goalies, measure.id, &Goalie::id);
    if (goalie == log.state.goalies.end()) return;
    Goalie measured = *goalie;
    measured.height_m = measure.height_m;
    measured.blocking_width_m = measure.blocking_width_m;
    measured.lateral_speed_mps = measure.lateral_speed_mps;
    log.file.change("figures of " + measured.name, [&] {
        log.file.put(measured);
        recompute(log.file, log.progress);
    });
    reload(log.file, log.state);
    log.tell_nothing();
}

} // namespace ropeline
