#include "desk/scorer_list.h"

#include "desk/state/folders.h"
#include "season/folded.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace ropeline {

namespace {

constexpr std::size_t most_bytes = (32u << 20u) + 1; // more than a list may have: the reader says so

std::optional<std::string> bytes_of(const std::filesystem::path& path) {
    std::error_code failed;
    if (!std::filesystem::is_regular_file(path, failed)) return std::nullopt;
    std::ifstream file(path, std::ios::binary);
    std::string bytes(std::min<std::uintmax_t>(std::filesystem::file_size(path, failed), most_bytes), '\0');
    if (!file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()))) return std::nullopt;
    return bytes;
}

} // namespace

FilmAt film_at(const LogState& log, const FrameTable* frames) {
    FilmAt film;
    const Film* open = chosen_film(log);
    if (!open || !frames) return film;
    film.film_id = open->id;
    film.frames = frames;
    film.clock = clock_marks_of(log, film.film_id);
    return film;
}

bool is_scorer_list(const std::string& path) {
    const std::string ending = in_small_letters(std::filesystem::path(path).extension().string());
    return ending == ".csv" || ending == ".tsv";
}

std::optional<ScorerList> read_scorer_list(const std::string& path) {
    const auto bytes = bytes_of(path);
    if (!bytes) return std::nullopt;
    ScorerList list;
    list.name = std::filesystem::path(path).filename().string();
    list.table = csv_table(*bytes);
    list.reading = guess_reading(list.table);
    return list;
}

void read_again(ScorerList& list, const LogState& log, const FrameTable* frames) {
    list.with_film = frames != nullptr;
    list.goalies = log.goalies.size();
    const RuleBook& rules = rule_book(game_rules(log));
    list.coming =
        coming_in(log, read_shot_times(list.table, list.reading, rules), film_at(log, frames), list.told);
}

void read_again_if_needed(ScorerList& list, const LogState& log, const FrameTable* frames) {
    if (list.with_film != (frames != nullptr) || list.goalies != log.goalies.size())
        read_again(list, log, frames);
}

void turn_list_switch(ScorerList& list, int number) {
    ListReading& reading = list.reading;
    if (number == 1) reading.has_head = !reading.has_head;
    if (number == 2) reading.in_feet = !reading.in_feet;
    if (number == 3) reading.from = reading.from == PlaceFrom::net ? PlaceFrom::middle : PlaceFrom::net;
}

void hold_in_column(ScorerList& list, std::size_t column, ListColumn holds) {
    list.column = column;
    list.reading = with_column(list.reading, column, holds);
}

void tell_name(ScorerList& list, const std::string& written, const Id& goalie_id) {
    list.told[folded(written)] = goalie_id;
}

void turn_column(ScorerList& list, int steps) {
    if (list.column >= list.reading.columns.size()) return;
    const int now = static_cast<int>(list.reading.columns[list.column]);
    const int wanted = ((now + steps) % list_columns + list_columns) % list_columns;
    list.reading = with_column(list.reading, list.column, static_cast<ListColumn>(wanted));
}

void go_to_column(ScorerList& list, int steps) {
    const std::size_t count = std::max<std::size_t>(1, list.reading.columns.size());
    list.column = (list.column + count + static_cast<std::size_t>(steps)) % count;
    list.to_column = true;
}

} // namespace ropeline
