#include "intake/list_words.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <span>
#include <vector>

namespace ropeline {

namespace {

/// Small letters and digits, everything between them one space: "Game_Clock (left)" is "game clock left".
std::string plain(std::string_view text) {
    std::string out;
    for (const char c : text) {
        const bool capital = c >= 'A' && c <= 'Z';
        const bool kept = capital || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (c & 0x80) != 0;
        if (kept) {
            out += capital ? static_cast<char>(c + ('a' - 'A')) : c;
        } else if (!out.empty() && out.back() != ' ') {
            out += ' ';
        }
    }
    while (!out.empty() && out.back() == ' ')
        out.pop_back();
    return out;
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words{""};
    for (const char c : plain(text)) {
        if (c == ' ') {
            words.emplace_back();
        } else {
            words.back() += c;
        }
    }
    return words;
}

bool has_any(const std::vector<std::string>& words, std::span<const std::string_view> wanted) {
    return std::ranges::any_of(words, [&](const std::string& word) {
        return std::ranges::find(wanted, std::string_view{word}) != wanted.end();
    });
}

std::optional<int> small_number(std::string_view text) {
    int number = 0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), number);
    if (text.empty() || end.ec != std::errc{} || end.ptr != text.data() + text.size()) return std::nullopt;
    return number;
}

struct OutcomeWord {
    std::string_view word;
    Outcome outcome;
};

// As scorers write them; common practice, no source.
constexpr std::array outcome_words = {
    OutcomeWord{"goal", Outcome::goal},
    OutcomeWord{"goals", Outcome::goal},
    OutcomeWord{"g", Outcome::goal},
    OutcomeWord{"ga", Outcome::goal},
    OutcomeWord{"goal against", Outcome::goal},
    OutcomeWord{"scored", Outcome::goal},
    OutcomeWord{"save", Outcome::save_held},
    OutcomeWord{"saved", Outcome::save_held},
    OutcomeWord{"saves", Outcome::save_held},
    OutcomeWord{"sv", Outcome::save_held},
    OutcomeWord{"s", Outcome::save_held},
    OutcomeWord{"stop", Outcome::save_held},
    OutcomeWord{"stopped", Outcome::save_held},
    OutcomeWord{"held", Outcome::save_held},
    OutcomeWord{"save held", Outcome::save_held},
    OutcomeWord{"frozen", Outcome::save_held},
    OutcomeWord{"freeze", Outcome::save_held},
    OutcomeWord{"save freeze", Outcome::save_held},
    OutcomeWord{"rebound", Outcome::save_rebound},
    OutcomeWord{"save rebound", Outcome::save_rebound},
    OutcomeWord{"saved rebound", Outcome::save_rebound},
    OutcomeWord{"save with rebound", Outcome::save_rebound},
    OutcomeWord{"rebound save", Outcome::save_rebound},
    OutcomeWord{"post", Outcome::post},
    OutcomeWord{"posts", Outcome::post},
    OutcomeWord{"hit post", Outcome::post},
    OutcomeWord{"goal post", Outcome::post},
    OutcomeWord{"goalpost", Outcome::post},
    OutcomeWord{"bar", Outcome::post},
    OutcomeWord{"crossbar", Outcome::post},
    OutcomeWord{"cross bar", Outcome::post},
    OutcomeWord{"iron", Outcome::post},
    OutcomeWord{"pipe", Outcome::post},
    OutcomeWord{"miss", Outcome::miss},
    OutcomeWord{"missed", Outcome::miss},
    OutcomeWord{"missed shot", Outcome::miss},
    OutcomeWord{"missed net", Outcome::miss},
    OutcomeWord{"m", Outcome::miss},
    OutcomeWord{"wide", Outcome::miss},
    OutcomeWord{"shot wide", Outcome::miss},
    OutcomeWord{"over", Outcome::miss},
    OutcomeWord{"high", Outcome::miss},
    OutcomeWord{"off target", Outcome::miss},
    OutcomeWord{"block", Outcome::block},
    OutcomeWord{"blocked", Outcome::block},
    OutcomeWord{"blocked shot", Outcome::block},
    OutcomeWord{"shot blocked", Outcome::block},
    OutcomeWord{"blk", Outcome::block},
    OutcomeWord{"bl", Outcome::block},
    OutcomeWord{"b", Outcome::block},
    OutcomeWord{"no shot", Outcome::no_shot},
    OutcomeWord{"none", Outcome::no_shot},
};

} // namespace

std::optional<double> number_in(std::string_view text, bool comma_decimals) {
    std::string digits{text};
    if (comma_decimals) std::ranges::replace(digits, ',', '.');
    if (digits.starts_with('+')) digits.erase(0, 1);
    if (digits.starts_with("\xe2\x88\x92")) digits.replace(0, 3, "-"); // a typeset minus
    if (digits.empty() || digits.size() > 40) return std::nullopt;
    if (digits.find_first_not_of("0123456789.-") != std::string::npos) return std::nullopt;
    double number = 0.0;
    const auto end = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (end.ec != std::errc{} || end.ptr != digits.data() + digits.size() || std::abs(number) > 1e6)
        return std::nullopt;
    return number;
}

std::optional<double> time_in(std::string_view text, bool comma_decimals) {
    double seconds = 0.0;
    int parts = 0;
    for (std::size_t at = 0; at <= text.size(); ++parts) {
        const std::size_t colon = std::min(text.find(':', at), text.size());
        const std::string_view part = text.substr(at, colon - at);
        const bool last = colon == text.size();
        std::optional<double> value = last ? number_in(part, comma_decimals) : std::nullopt;
        if (const auto whole = small_number(part); whole && !last) value = *whole;
        const bool sixty = parts > 0 && value && *value >= 60.0;
        const bool two_digits = parts == 0 || (part.size() >= 2 && part[1] >= '0' && part[1] <= '9');
        if (!value || *value < 0.0 || part.starts_with('-') || sixty || !two_digits || parts > 2)
            return std::nullopt;
        seconds = 60.0 * seconds + *value;
        at = colon + 1;
    }
    return seconds <= 1e6 ? std::optional{seconds} : std::nullopt;
}

std::optional<int> period_in(std::string_view text) {
    std::string word;
    for (const std::string& one : words_of(text)) {
        if (one != "period" && one != "per") word += one;
    }
    constexpr std::array<std::string_view, 3> overtimes = {"ot", "overtime", "et"};
    for (const std::string_view overtime : overtimes) {
        if (word == overtime) return 4;
        std::string_view rest{word};
        if (rest.starts_with(overtime)) {
            rest.remove_prefix(overtime.size());
        } else if (rest.ends_with(overtime)) {
            rest.remove_suffix(overtime.size());
        } else {
            continue;
        }
        const auto number = small_number(rest);
        return number && *number >= 1 && *number <= 6 ? std::optional{*number + 3} : std::nullopt;
    }
    std::string_view digits{word};
    if (digits.starts_with('p')) digits.remove_prefix(1);
    for (const std::string_view ending : {"st", "nd", "rd", "th"}) {
        if (digits.ends_with(ending)) {
            digits.remove_suffix(2);
            break;
        }
    }
    const auto number = small_number(digits);
    const auto dot = text.find('.');
    const bool fraction = dot + 1 < text.size() && text[dot + 1] >= '0' && text[dot + 1] <= '9';
    const bool marked = text.find_first_of("-,:") != std::string_view::npos;
    return number && !marked && !(dot != std::string_view::npos && fraction) && *number >= 1 && *number <= 9
               ? number
               : std::nullopt;
}

std::optional<ListColumn> column_named(std::string_view head) {
    const auto words = words_of(head);
    const auto any = [&](std::initializer_list<std::string_view> wanted) {
        return has_any(words, {wanted.begin(), wanted.size()});
    };
    if (any({"film", "video", "clip", "timestamp"})) return ListColumn::film_time;
    if (any({"elapsed", "gone", "played"})) return ListColumn::clock_gone;
    if (any({"clock", "left", "remaining"})) return ListColumn::clock_left;
    if (any({"period", "per", "prd", "p"})) return ListColumn::period;
    if (any({"goalie", "goalkeeper", "goaltender", "keeper", "netminder", "goaler"}))
        return ListColumn::goalie;
    if (any({"outcome", "result", "event", "what"})) return ListColumn::outcome;
    if (any({"note", "notes", "comment", "comments", "remark", "remarks", "description"}))
        return ListColumn::note;
    if (words.front() == "x" || words.back() == "x") return ListColumn::x;
    if (words.front() == "y" || words.back() == "y") return ListColumn::y;
    if (any({"seconds", "sec", "secs", "s"}) && !any({"time"})) return ListColumn::film_time;
    return std::nullopt;
}

bool names_some_time(std::string_view head) {
    constexpr std::array<std::string_view, 3> times = {"time", "at", "when"};
    return has_any(words_of(head), times);
}

bool names_feet(std::string_view head) {
    constexpr std::array<std::string_view, 3> feet = {"ft", "feet", "foot"};
    return has_any(words_of(head), feet);
}

std::optional<Outcome> outcome_in(std::string_view word) {
    const std::string wanted = plain(word);
    const auto found = std::ranges::find(outcome_words, std::string_view{wanted}, &OutcomeWord::word);
    if (found == outcome_words.end()) return std::nullopt;
    return found->outcome;
}

} // namespace ropeline
