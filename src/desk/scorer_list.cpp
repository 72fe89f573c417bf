// A scorer's list of shots (.csv): dropped on the desk, read, looked at, and taken in with Enter.
#include "desk/app.h"

#include "desk/state/bring_in.h"

#include <algorithm>
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

/// The column in hand holds the next thing a column can hold, or the one before.
void turn_column(ListPage& page, int steps) {
    if (page.column >= page.reading.columns.size()) return;
    const int now = static_cast<int>(page.reading.columns[page.column]);
    const int wanted = ((now + steps) % list_columns + list_columns) % list_columns;
    page.reading = with_column(page.reading, page.column, static_cast<ListColumn>(wanted));
}

void turn_switch(ListPage& page, int number) {
    if (number == 1) page.reading.has_head = !page.reading.has_head;
    if (number == 2) page.reading.in_feet = !page.reading.in_feet;
    if (number == 3)
        page.reading.from = page.reading.from == PlaceFrom::net ? PlaceFrom::middle : PlaceFrom::net;
}

} // namespace

FilmAt film_at(const App& app, const FrameTable* frames) {
    const LogState& log = app.book->state();
    FilmAt film;
    if (!chosen_film(log) || !frames) return film;
    film.film_id = open_film(log);
    film.frames = frames;
    film.clock = clock_marks_of(log, film.film_id);
    return film;
}

bool is_scorer_list(const std::string& path) {
    std::string ending = std::filesystem::path(path).extension().string();
    std::ranges::transform(ending, ending.begin(), [](unsigned char c) { return std::tolower(c); });
    return ending == ".csv" || ending == ".tsv";
}

void open_list(App& app, const std::string& path) {
    LogBook& book = *app.book;
    if (!chosen_game(book.state())) {
        app.games_page = true;
        return book.tell("Pick or start the game first, then bring in its list of shots.", true);
    }
    if (book.state().goalie_id.empty()) {
        app.games_page = true;
        return book.tell("Add the goalie who was in net first, then bring in the list of shots.", true);
    }
    const auto bytes = bytes_of(path);
    if (!bytes)
        return book.tell("The list " + path + " cannot be read: is it there, and may you read it?", true);
    ListPage page;
    page.name = std::filesystem::path(path).filename().string();
    page.table = csv_table(*bytes);
    page.reading = guess_reading(page.table);
    app.list_page = std::move(page);
    app.side = Side::log;
    app.games_page = app.key_sheet = app.parameters_page = false;
    read_list_again(app);
}

void read_list_again(App& app) {
    ListPage& page = *app.list_page;
    const LogState& log = app.book->state();
    const auto frames = frames_of(app);
    page.with_film = frames != nullptr;
    page.goalies = log.goalies.size();
    const RuleBook& rules = rule_book(game_rules(log));
    page.coming =
        coming_in(log, read_shot_times(page.table, page.reading, rules), film_at(app, frames.get()));
}

void take_list(App& app) {
    ListPage& page = *app.list_page;
    if (page.coming.shots.empty()) {
        app.book->tell("No row of this list can come in: look at why beside it, or [put_down] leaves it.",
                       true);
        return;
    }
    app.actions.push_back(BringIn{page.name, std::move(page.coming.shots)});
    app.list_page.reset();
}

void turn_list_switch(App& app, int number) {
    if (number > 3) return;
    turn_switch(*app.list_page, number);
    read_list_again(app);
}

void hold_in_column(App& app, std::size_t column, ListColumn holds) {
    ListPage& page = *app.list_page;
    page.column = column;
    page.reading = with_column(page.reading, column, holds);
    read_list_again(app);
}

void run_list_page_command(App& app, Command command) {
    ListPage& page = *app.list_page;
    const std::size_t count = std::max<std::size_t>(1, page.reading.columns.size());
    switch (command) {
    case Command::frame_on:
        page.column = (page.column + 1) % count;
        page.to_column = true;
        return;
    case Command::frame_back:
        page.column = (page.column + count - 1) % count;
        page.to_column = true;
        return;
    case Command::next_shot:
    case Command::previous_shot:
        turn_column(page, command == Command::next_shot ? 1 : -1);
        read_list_again(app);
        return;
    case Command::take_shot:
        take_list(app);
        return;
    default:
        return;
    }
}

} // namespace ropeline
