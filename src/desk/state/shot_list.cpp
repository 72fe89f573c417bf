#include "desk/state/shot_list.h"

#include "desk/state/logged.h"
#include "season/clock_words.h"
#include "season/folded.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ropeline {

namespace {

constexpr std::array<std::string_view, 10> column_labels = {
    "#", "time", "goalie", "band", "depth", "read", "verdict", "outcome", "situation", "strength"};

// The ones a coach needs first; what a season asks for follows, the note is last.
constexpr std::array by_need = {
    ShotColumn::number, ShotColumn::time,   ShotColumn::outcome,   ShotColumn::verdict, ShotColumn::read,
    ShotColumn::band,   ShotColumn::goalie, ShotColumn::situation, ShotColumn::depth,   ShotColumn::strength};
static_assert(column_labels.size() == static_cast<std::size_t>(ShotColumn::first_detail) &&
              by_need.size() == column_labels.size());

std::vector<ShotColumn> needed(const std::set<std::string>& asks) {
    std::vector<ShotColumn> columns{by_need.begin(), by_need.end()};
    for (int index = 0; index < detail_count; ++index) {
        const auto detail = static_cast<Detail>(index);
        if (asks.contains(std::string{fact_of(detail).key})) columns.push_back(shot_column(detail));
    }
    columns.push_back(ShotColumn::note);
    return columns;
}

/// What is known of it on the shot; of a moment's, on the moment that the shot is about.
const Details* details_with(const ShotEntry& entry, Detail detail) {
    if (!fact_of(detail).of_moment) return &entry.shot.details;
    const Moment* moment = main_moment(entry);
    return moment ? &moment->details : nullptr;
}

constexpr std::string_view no_place = "no place on the film yet";

std::string_view goalie_name(const LogState& state, const Shot& shot) {
    const Goalie* goalie = goalie_of(state, shot.goalie_id);
    return goalie ? std::string_view{goalie->name} : std::string_view{};
}

const Reading* reading_of(const ShotEntry& entry) {
    const Moment* moment = main_moment(entry);
    return moment && moment->reading ? &*moment->reading : nullptr;
}

template <class Value>
std::string_view words_of(const std::optional<Value>& value) {
    return value ? label_of(*value) : std::string_view{};
}

std::string time_words(const LogState& state, const Shot& shot) {
    if (shot.clock_s) return game_time_words(shot.period, *shot.clock_s);
    const auto film = std::ranges::find(state.films, shot.film_id, &Film::id);
    if (film != state.films.end()) return clock_words(shot.film_s - film->first_s.value_or(0.0));
    return shot.period ? fmt::format("P{}", *shot.period) : "";
}

/// Both folded; the word must begin one of the label's.
bool begins_a_word(std::string_view label, std::string_view word) {
    for (std::size_t at = label.find(word); at != std::string_view::npos; at = label.find(word, at + 1)) {
        if (at == 0 || std::string_view{" ,-"}.find(label[at - 1]) != std::string_view::npos) return true;
    }
    return false;
}

/// Everything the filter looks at, folded; the commas keep a word from running over two labels.
std::string searched_words(const LogState& state, const ShotEntry& entry) {
    const Shot& shot = entry.shot;
    const Reading* reading = reading_of(entry);
    const bool open = !open_fields(entry).empty();
    return folded(fmt::format("{},{},{},{},{},{},{},{},{},{},{},{}{}", time_words(state, shot),
                              goalie_name(state, shot), reading ? label_of(reading->band) : "",
                              words_of(shot.read), call_words(shot), words_of(final_verdict(entry)),
                              words_of(shot.outcome), words_of(shot.situation), words_of(shot.strength),
                              shot.period ? fmt::format("p{}", *shot.period) : "", open ? "open" : "",
                              has_no_place(state, shot) ? no_place : "", logged_words(entry)));
}

std::vector<std::string> words_in(std::string_view filter) {
    std::vector<std::string> words;
    const std::string text = folded(filter);
    for (std::size_t at = text.find_first_not_of(' '); at != std::string::npos;) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        words.push_back(text.substr(at, end - at));
        at = text.find_first_not_of(' ', end);
    }
    return words;
}

struct SortKey {
    std::size_t index = 0;
    bool known = true;
    double number = 0.0;
    std::string text;
};

template <class Value>
void put_rank(SortKey& key, const std::optional<Value>& value) {
    key.known = value.has_value();
    if (value) key.number = static_cast<double>(*value);
}

/// The clock runs down and a period is at most 7200 s, the most the season file takes; shots without a clock
/// stand after those with one, by film time.
void put_time(SortKey& key, const LogState& state, const Shot& shot) {
    constexpr double longest_s = 7200.0;
    if (shot.clock_s) {
        key.number = longest_s * (shot.period.value_or(0) + 1) - *shot.clock_s;
    } else if (shot.film_id.empty()) {
        key.known = false;
    } else {
        const auto film = std::ranges::find(state.films, shot.film_id, &Film::id);
        key.number = 1e9 * (1.0 + static_cast<double>(film - state.films.begin())) + shot.film_s;
    }
}

SortKey key_of_shot(const LogState& state, std::size_t index, ShotColumn column) {
    const ShotEntry& entry = state.shots[index];
    const Reading* reading = reading_of(entry);
    SortKey key;
    key.index = index;
    if (const auto detail = detail_in(column)) {
        const Details* details = details_with(entry, *detail);
        key.number = details ? details->of(*detail) : 0;
        key.known = key.number > 0.0;
        return key;
    }
    switch (column) {
    case ShotColumn::number:
        key.number = static_cast<double>(index);
        break;
    case ShotColumn::time:
        put_time(key, state, entry.shot);
        break;
    case ShotColumn::goalie:
        key.text = folded(goalie_name(state, entry.shot));
        key.known = !key.text.empty();
        break;
    case ShotColumn::band:
        put_rank(key, reading ? std::optional{reading->band} : std::nullopt);
        break;
    case ShotColumn::depth:
        put_rank(key, reading ? std::optional{reading->depth_m} : std::nullopt);
        break;
    case ShotColumn::read:
        put_rank(key, entry.shot.read);
        break;
    case ShotColumn::verdict:
        put_rank(key, final_verdict(entry));
        break;
    case ShotColumn::outcome:
        put_rank(key, entry.shot.outcome);
        break;
    case ShotColumn::situation:
        put_rank(key, entry.shot.situation);
        break;
    case ShotColumn::strength:
        put_rank(key, entry.shot.strength);
        break;
    case ShotColumn::first_detail:
    case ShotColumn::note:
        key.text = folded(entry.shot.note);
        key.known = !key.text.empty();
        break;
    }
    return key;
}

} // namespace

std::string_view label_of(ShotColumn column) {
    if (const auto detail = detail_in(column)) return fact_of(*detail).label;
    return column == ShotColumn::note ? "note" : column_labels.at(static_cast<std::size_t>(column));
}

std::optional<Detail> detail_in(ShotColumn column) {
    if (column < ShotColumn::first_detail || column >= ShotColumn::note) return std::nullopt;
    return static_cast<Detail>(static_cast<int>(column) - static_cast<int>(ShotColumn::first_detail));
}

ShotColumn shot_column(Detail detail) {
    return static_cast<ShotColumn>(static_cast<int>(ShotColumn::first_detail) + static_cast<int>(detail));
}

std::vector<ShotColumn> columns_of(const std::set<std::string>& asks) {
    auto columns = needed(asks);
    std::ranges::sort(columns);
    return columns;
}

ShotColumn column_after(ShotColumn column, const std::set<std::string>& asks) {
    const auto columns = columns_of(asks);
    const auto after = std::ranges::upper_bound(columns, column);
    return after == columns.end() ? columns.front() : *after;
}

bool waits_for_rink(const Moment& moment) {
    const bool goalie = find_mark(moment, MarkKind::goalie) ||
                        (find_mark(moment, MarkKind::skate_left) && find_mark(moment, MarkKind::skate_right));
    const Mark* puck = find_mark(moment, MarkKind::puck);
    return goalie && puck && puck->at && !puck->ice && moment.rink_fit_id.empty();
}

std::optional<Verdict> final_verdict(const ShotEntry& entry) {
    const Moment* moment = main_moment(entry);
    if (!moment) return std::nullopt;
    return moment->overruled ? moment->overruled : model_verdict(*moment);
}

std::string_view letter_of(Verdict verdict) {
    switch (verdict) {
    case Verdict::right_depth:
        return "R";
    case Verdict::over_challenged:
        return "O";
    case Verdict::too_far_out:
        return "T";
    case Verdict::sat_back:
        return "S";
    case Verdict::off_angle:
        return "A";
    case Verdict::beaten_across:
        return "B";
    case Verdict::off_the_post:
        return "P";
    case Verdict::not_judged:
        break;
    }
    return "–";
}

bool misread(const Shot& shot) {
    return call_words(shot) == "misread it";
}

std::string_view call_words(const Shot& shot) {
    if (!shot.read || (shot.came != NextAction::shot && shot.came != NextAction::pass)) return {};
    return (*shot.read == Read::shot) == (*shot.came == NextAction::shot) ? "read it" : "misread it";
}

bool has_no_place(const LogState& state, const Shot& shot) {
    return shot.film_id.empty() && !state.films.empty();
}

std::optional<CardField> field_of(ShotColumn column) {
    if (const auto detail = detail_in(column)) // a moment's is set with the moment in hand
        return fact_of(*detail).of_moment ? std::nullopt : std::optional{card_field(*detail)};
    switch (column) {
    case ShotColumn::read:
        return CardField::read;
    case ShotColumn::outcome:
        return CardField::outcome;
    case ShotColumn::situation:
        return CardField::situation;
    case ShotColumn::strength:
        return CardField::strength;
    case ShotColumn::number:
    case ShotColumn::time:
    case ShotColumn::goalie:
    case ShotColumn::band:
    case ShotColumn::depth:
    case ShotColumn::verdict:
    case ShotColumn::first_detail:
    case ShotColumn::note:
        break;
    }
    return std::nullopt;
}

std::string cell_words(const LogState& state, const ShotEntry& entry, ShotColumn column, LengthUnit unit) {
    const Shot& shot = entry.shot;
    const Reading* reading = reading_of(entry);
    if (const auto detail = detail_in(column)) {
        const Details* details = details_with(entry, *detail);
        return std::string{details ? label_of(*details, *detail) : ""};
    }
    switch (column) {
    case ShotColumn::number:
        return std::to_string(&entry - state.shots.data() + 1);
    case ShotColumn::time:
        return time_words(state, shot);
    case ShotColumn::goalie:
        return std::string{goalie_name(state, shot)};
    case ShotColumn::band:
        return std::string{reading ? label_of(reading->band) : ""};
    case ShotColumn::depth:
        return reading ? in_figures(reading->depth_m, unit) : "";
    case ShotColumn::read:
        return std::string{words_of(shot.read)};
    case ShotColumn::verdict:
        return std::string{words_of(final_verdict(entry))};
    case ShotColumn::outcome:
        return std::string{words_of(shot.outcome)};
    case ShotColumn::situation:
        return std::string{words_of(shot.situation)};
    case ShotColumn::strength:
        return std::string{words_of(shot.strength)};
    case ShotColumn::first_detail:
    case ShotColumn::note:
        if (!has_no_place(state, shot)) return shot.note;
        return shot.note.empty() ? std::string{no_place} : fmt::format("{}: {}", no_place, shot.note);
    }
    return {};
}

FactFilter of_one_game(FactFilter filter) {
    filter.from.clear();
    filter.to.clear();
    filter.area.reset();
    return filter;
}

bool in_filter(const LogState& state, const ShotEntry& entry, const FactFilter& filter) {
    ShotFact fact; // what of it the filter looks at, by the rules of the view shot_facts
    fact.goalie_id = entry.shot.goalie_id;
    if (const Goalie* goalie = goalie_of(state, entry.shot.goalie_id)) {
        fact.goalie = goalie->name;
        fact.team = team_name(state, goalie->team_id);
    }
    fact.situation = entry.shot.situation;
    fact.came = entry.shot.came;
    fact.outcome = entry.shot.outcome;
    fact.details = entry.shot.details;
    const Moment* main = main_moment(entry);
    fact.verdict = final_verdict(entry);
    for (const Moment& moment : entry.moments) {
        if (&moment == main || moment.kind != MomentKind::pass || !moment.reading || !moment.same_as.empty())
            continue;
        fact.pass.emplace();
        fact.pass->verdict = moment.overruled ? moment.overruled : model_verdict(moment);
    }
    return passes(of_one_game(filter), fact);
}

std::vector<std::size_t> listed_shots(const LogState& state) {
    const std::vector<std::string> wanted = words_in(state.list.filter);
    const FactFilter only = of_one_game(state.list.only);
    const bool all = only.asks_nothing();
    std::vector<SortKey> keys;
    for (std::size_t index = 0; index < state.shots.size(); ++index) {
        if (!all && !in_filter(state, state.shots[index], only)) continue;
        if (!wanted.empty()) {
            const std::string words = searched_words(state, state.shots[index]);
            const bool has_all = std::ranges::all_of(
                wanted, [&](const std::string& word) { return begins_a_word(words, word); });
            if (!has_all) continue;
        }
        keys.push_back(key_of_shot(state, index, state.list.by));
    }
    std::ranges::stable_sort(keys, [&](const SortKey& a, const SortKey& b) {
        if (a.known != b.known) return a.known;
        const auto& [first, second] = state.list.falling ? std::tie(b, a) : std::tie(a, b);
        return first.number != second.number ? first.number < second.number : first.text < second.text;
    });
    std::vector<std::size_t> listed;
    listed.reserve(keys.size());
    for (const SortKey& key : keys)
        listed.push_back(key.index);
    return listed;
}

FittingColumns columns_in(float room_px, const std::array<float, shot_columns>& wide_px,
                          float short_verdict_px, const std::set<std::string>& asks) {
    const auto by_need_here = needed(asks);
    const auto taken = [&](float verdict_px) {
        std::vector<ShotColumn> columns;
        float used = 0.0F;
        for (const ShotColumn column : by_need_here) {
            const float wide =
                column == ShotColumn::verdict ? verdict_px : wide_px.at(static_cast<std::size_t>(column));
            if (!columns.empty() && used + wide > room_px) break;
            used += wide;
            columns.push_back(column);
        }
        std::ranges::sort(columns);
        return columns;
    };
    const auto with_words = taken(wide_px.at(static_cast<std::size_t>(ShotColumn::verdict)));
    const auto with_letter = taken(short_verdict_px);
    const bool short_verdict = with_words.size() < 6 && with_letter.size() > with_words.size();
    return {short_verdict ? with_letter : with_words, short_verdict};
}

} // namespace ropeline
