#include "intake/goalie_answers.h"

#include "season/answer_worth.h"
#include "season/come_back.h"

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <set>

namespace ropeline {
namespace {

using nlohmann::json;

constexpr int deepest = 4; // the file, its list, an answer, its place

json parse(std::string_view text) {
    if (text.size() > most_answer_bytes)
        throw AnswersError(
            "the file is too long to be a goalie's answers; take the one that the handout saved");
    try {
        return json::parse(text, [](int depth, json::parse_event_t, json&) {
            if (depth > deepest) throw AnswersError("the file is nested too deep to be a goalie's answers");
            return true;
        });
    } catch (const json::exception&) {
        throw AnswersError("the file is not JSON; take the one that the handout saved");
    }
}

void allow_keys(const json& at, const std::string& where, std::initializer_list<std::string_view> known) {
    if (!at.is_object()) throw AnswersError(fmt::format("{} must be an object", where));
    for (const auto& [key, value] : at.items()) {
        if (std::ranges::find(known, key) == known.end())
            throw AnswersError(fmt::format("{} has a key that an answer does not have", where));
    }
}

std::string text_at(const json& at, const char* key, const std::string& where, std::size_t longest) {
    if (!at.contains(key) || !at[key].is_string())
        throw AnswersError(fmt::format("{}: \"{}\" must be text", where, key));
    std::string text = at[key].get<std::string>();
    if (text.size() > longest) throw AnswersError(fmt::format("{}: \"{}\" is too long", where, key));
    return text;
}

/// "0190b3a2-...": 36 characters, digits and a to f, four hyphens (RFC 9562).
std::string id_at(const json& at, const char* key, const std::string& where) {
    std::string id = text_at(at, key, where, 36);
    bool good = id.size() == 36;
    for (std::size_t index = 0; good && index < id.size(); ++index) {
        const bool hyphen = index == 8 || index == 13 || index == 18 || index == 23;
        const char c = id[index];
        good = hyphen ? c == '-' : (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
    }
    if (!good) throw AnswersError(fmt::format("{}: \"{}\" is not an id", where, key));
    return id;
}

double number_within(const json& value, double least, double most, const std::string& where) {
    const double number = value.is_number() ? value.get<double>() : std::nan("");
    if (!(number >= least && number <= most))
        throw AnswersError(fmt::format("{} must be a number from {} to {}", where, least, most));
    return number;
}

/// UTC to the second: "2026-11-25T14:03:00Z".
std::string time_at(const json& at, const std::string& where) {
    std::string time = text_at(at, "answered_at", where, 20);
    constexpr std::string_view shape = "dddd-dd-ddTdd:dd:ddZ";
    const bool good = std::ranges::equal(
        time, shape, [](char c, char wanted) { return wanted == 'd' ? c >= '0' && c <= '9' : c == wanted; });
    const auto part = [&](std::size_t from) { return good ? std::stoi(time.substr(from, 2)) : 99; };
    if (!good || part(5) < 1 || part(5) > 12 || part(8) < 1 || part(8) > 31 || part(11) > 23 ||
        part(14) > 59 || part(17) > 60)
        throw AnswersError(fmt::format("{}: \"answered_at\" is not a time like 2026-11-25T14:03:00Z", where));
    return time;
}

Answer answer_at(const json& at, const std::string& where, const std::string& answered_by) {
    allow_keys(at, where, {"id", "moment", "read", "ice_m", "took_s", "answered_at"});
    Answer answer;
    answer.id = id_at(at, "id", where);
    answer.moment_id = id_at(at, "moment", where);
    answer.answered_by = answered_by;
    answer.answered_at = time_at(at, where);
    answer.read = from_key<Read>(text_at(at, "read", where, 10));
    if (!answer.read) throw AnswersError(fmt::format("{}: \"read\" must be shot or pass", where));
    if (!at.contains("ice_m") || !at["ice_m"].is_array() || at["ice_m"].size() != 2)
        throw AnswersError(fmt::format("{}: \"ice_m\" must be two numbers", where));
    answer.ice = IcePoint{number_within(at["ice_m"][0], -100.0, 100.0, where + ": \"ice_m\""),
                          number_within(at["ice_m"][1], -100.0, 100.0, where + ": \"ice_m\"")};
    if (at.contains("took_s"))
        answer.took_s = number_within(at["took_s"], 0.0, 86400.0, where + ": \"took_s\"");
    return answer;
}

/// Those that are new bring the days on which decisions come back up to date, also of answers that were there.
void put_in(SeasonFile& file, std::vector<Answer> fresh) {
    std::set<Id> moments;
    for (Answer& answer : fresh) {
        file.put(answer);
        moments.insert(answer.moment_id);
    }
    put_due_days(file, moments, fresh.front().answered_by);
}

} // namespace

std::vector<Answer> read_answers(std::string_view text) {
    const json file = parse(text);
    allow_keys(file, "the file", {"ropeline_answers", "answered_by", "answers"});
    if (!file.contains("ropeline_answers"))
        throw AnswersError("the file holds no answers; take the one that the handout saved");
    if (file["ropeline_answers"] != 1)
        throw AnswersError("the answers are of a newer handout; use the program that made it");
    const std::string answered_by = text_at(file, "answered_by", "the file", 200);
    if (!file.contains("answers") || !file["answers"].is_array())
        throw AnswersError("the file: \"answers\" must be a list");
    if (file["answers"].size() > most_answers)
        throw AnswersError(fmt::format("the file holds more than {} answers", most_answers));
    std::vector<Answer> answers;
    std::set<Id> ids;
    for (const json& one : file["answers"]) {
        answers.push_back(answer_at(one, fmt::format("answer {}", answers.size() + 1), answered_by));
        if (!ids.insert(answers.back().id).second)
            throw AnswersError(fmt::format("answer {} has the id of another one", answers.size()));
    }
    return answers;
}

TakenAnswers take_answers(SeasonFile& file, std::vector<Answer> answers) {
    TakenAnswers taken;
    if (!answers.empty()) taken.answered_by = answers.front().answered_by;
    std::set<Id> there;
    for (const Answer& answer : file.answers())
        there.insert(answer.id);
    const auto of_season = put_worth(file, answers);
    std::vector<Answer> fresh;
    for (std::size_t index = 0; index < answers.size(); ++index) {
        if (there.contains(answers[index].id)) {
            ++taken.known;
        } else if (!of_season[index]) {
            taken.not_of_season.push_back(answers[index].moment_id);
        } else {
            ++taken.taken;
            fresh.push_back(std::move(answers[index]));
        }
    }
    if (fresh.empty()) return taken;
    file.change("answers from a handout", [&] { put_in(file, std::move(fresh)); });
    return taken;
}

std::string read_answers_file(const std::filesystem::path& path) {
    std::error_code code;
    if (!std::filesystem::is_regular_file(path, code))
        throw AnswersError(fmt::format("there is no file {}", path.string()));
    std::ifstream in(path, std::ios::binary);
    std::string text(most_answer_bytes + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (in.bad() || (!in && !in.eof())) throw AnswersError(fmt::format("cannot read {}", path.string()));
    text.resize(static_cast<std::size_t>(in.gcount()));
    return text;
}

std::string words_of(const TakenAnswers& taken) {
    std::string words = fmt::format("{} answer{}{}{} taken in", taken.taken, taken.taken == 1 ? "" : "s",
                                    taken.answered_by.empty() ? "" : " by ", taken.answered_by);
    if (taken.known > 0)
        words += fmt::format("; {} {} there already", taken.known, taken.known == 1 ? "was" : "were");
    if (const auto others = taken.not_of_season.size(); others > 0)
        words += fmt::format("; {} left out, about {} that this season has not", others,
                             others == 1 ? "a moment" : "moments");
    return words;
}

} // namespace ropeline
