#include "desk/state/card.h"

#include <algorithm>
#include <array>

namespace ropeline {

namespace {

constexpr std::array reads = {Read::shot, Read::pass};
constexpr std::array nexts = {NextAction::shot, NextAction::pass, NextAction::carry, NextAction::none};
constexpr std::array situations = {Situation::rush,    Situation::zone,      Situation::penalty_kill,
                                   Situation::rebound, Situation::breakaway, Situation::neutral_ice};
constexpr std::array strengths = {Strength::even, Strength::power_play, Strength::short_handed};
constexpr std::array outcomes = {Outcome::goal, Outcome::save_held, Outcome::save_rebound, Outcome::post,
                                 Outcome::miss, Outcome::block,     Outcome::no_shot};

template <class Values>
std::vector<std::string_view> labels(const Values& values) {
    std::vector<std::string_view> all;
    for (const auto value : values)
        all.push_back(label_of(value));
    return all;
}

template <class Values, class Value>
int place_of(const Values& values, const std::optional<Value>& value) {
    if (!value) return 0;
    return static_cast<int>(std::ranges::find(values, *value) - values.begin()) + 1;
}

template <class Values, class Value>
void toggle(const Values& values, std::optional<Value>& value, int number) {
    if (number < 1 || static_cast<std::size_t>(number) > values.size()) return;
    const auto wanted = values.at(static_cast<std::size_t>(number - 1));
    if (value == wanted) {
        value.reset();
    } else {
        value = wanted;
    }
}

} // namespace

CardField card_field(Detail detail) {
    return static_cast<CardField>(card_fields + static_cast<int>(detail));
}

std::optional<Detail> detail_in(CardField field) {
    if (static_cast<int>(field) < card_fields) return std::nullopt;
    return static_cast<Detail>(static_cast<int>(field) - card_fields);
}

std::vector<CardField> shown_fields(const std::set<std::string>& asks) {
    std::vector<CardField> shown;
    for (int index = 0; index < card_fields; ++index)
        shown.push_back(static_cast<CardField>(index));
    for (int index = 0; index < detail_count; ++index) {
        const auto detail = static_cast<Detail>(index);
        if (asks.contains(std::string{fact_of(detail).key})) shown.push_back(card_field(detail));
    }
    return shown;
}

std::string_view label_of(CardField field) {
    if (const auto detail = detail_in(field)) return fact_of(*detail).label;
    switch (field) {
    case CardField::read:
        return "goalie read";
    case CardField::came:
        return "what came";
    case CardField::situation:
        return "situation";
    case CardField::strength:
        return "strength";
    case CardField::outcome:
        return "outcome";
    case CardField::cues:
        return "body says";
    }
    return "";
}

std::vector<std::string_view> choices_of(CardField field) {
    if (const auto detail = detail_in(field)) {
        std::vector<std::string_view> all;
        for (const DetailChoice& choice : fact_of(*detail).choices)
            all.push_back(choice.label);
        return all;
    }
    switch (field) {
    case CardField::read:
        return labels(reads);
    case CardField::came:
        return labels(nexts);
    case CardField::situation:
        return labels(situations);
    case CardField::strength:
        return labels(strengths);
    case CardField::outcome:
        return labels(outcomes);
    case CardField::cues: {
        std::vector<std::string_view> all;
        for (const CueFact& fact : cue_facts())
            all.push_back(fact.label);
        return all;
    }
    }
    return {};
}

bool is_of_moment(CardField field) {
    const auto detail = detail_in(field);
    return field == CardField::cues || (detail && fact_of(*detail).of_moment);
}

int chosen_in(const Shot& shot, const Moment* moment, CardField field) {
    if (!is_of_moment(field)) return chosen_in(shot, field);
    const auto detail = detail_in(field);
    return moment && detail ? moment->details.of(*detail) : 0;
}

int chosen_in(const Shot& shot, CardField field) {
    if (const auto detail = detail_in(field)) return shot.details.of(*detail);
    switch (field) {
    case CardField::read:
        return place_of(reads, shot.read);
    case CardField::came:
        return place_of(nexts, shot.came);
    case CardField::situation:
        return place_of(situations, shot.situation);
    case CardField::strength:
        return place_of(strengths, shot.strength);
    case CardField::outcome:
        return place_of(outcomes, shot.outcome);
    case CardField::cues:
        break; // of a moment, several at once
    }
    return 0;
}

void toggle_choice(Shot& shot, CardField field, int number) {
    switch (field) {
    case CardField::read:
        return toggle(reads, shot.read, number);
    case CardField::came:
        return toggle(nexts, shot.came, number);
    case CardField::situation:
        return toggle(situations, shot.situation, number);
    case CardField::strength:
        return toggle(strengths, shot.strength, number);
    case CardField::outcome:
        return toggle(outcomes, shot.outcome, number);
    case CardField::cues:
        return;
    }
}

std::vector<std::string_view> open_fields(const ShotEntry& entry) {
    std::vector<std::string_view> open;
    const Moment* moment = main_moment(entry);
    if (!moment || !moment->reading) open.push_back("depth");
    for (int index = 0; index < asked_fields; ++index) {
        const auto field = static_cast<CardField>(index);
        if (chosen_in(entry.shot, field) == 0) open.push_back(label_of(field));
    }
    return open;
}

} // namespace ropeline
