#include "season/detail_rows.h"

#include "season/season_insides.h"

#include <algorithm>

namespace ropeline {
namespace {

bool is_of_moment(const char* table) {
    return std::string_view{table} == "moment";
}

} // namespace

int choice_of(const DetailFact& fact, std::string_view key) {
    const auto found = std::ranges::find(fact.choices, key, &DetailChoice::key);
    if (found == fact.choices.end())
        throw SeasonError(SeasonFault::damaged,
                          fmt::format("the season file holds \"{}\" for {}, which is no choice this program "
                                      "knows. Was it edited by hand? Put the word right with sqlite3.",
                                      key, fact.key));
    return static_cast<int>(found - fact.choices.begin()) + 1;
}

void put_details(SQLite::Database& db, const char* table, const Id& id, const Details& details) {
    std::string settings;
    for (const DetailFact& fact : detail_facts())
        if (fact.of_moment == is_of_moment(table))
            settings += fmt::format("{}{} = nullif(?, '')", settings.empty() ? "" : ", ", fact.key);
    SQLite::Statement statement{db, fmt::format("UPDATE {} SET {} WHERE id = ?", table, settings)};
    int place = 0;
    for (int index = 0; index < detail_count; ++index) {
        const auto detail = static_cast<Detail>(index);
        if (fact_of(detail).of_moment == is_of_moment(table))
            statement.bind(++place, std::string{key_of(details, detail)});
    }
    statement.bind(++place, id);
    statement.exec();
}

void read_details(const Row& row, Details& details, bool of_moment) {
    for (int index = 0; index < detail_count; ++index) {
        const auto detail = static_cast<Detail>(index);
        const DetailFact& fact = fact_of(detail);
        if (fact.of_moment != of_moment) continue;
        const std::string column{fact.key};
        if (!row.is_null(column.c_str())) details.set(detail, choice_of(fact, row.text(column.c_str())));
    }
}

void put_tags(SQLite::Database& db, const Id& shot_id, const std::vector<std::string>& tags) {
    const auto stored = tags_of(db, shot_id);
    for (const std::string& word : stored)
        if (std::ranges::find(tags, word) == tags.end())
            ask(db, "DELETE FROM tag WHERE shot_id = ? AND word = ?", {shot_id, word}).exec();
    for (const std::string& word : tags)
        if (std::ranges::find(stored, word) == stored.end())
            upsert(db, "tag", {{"id", new_id()}, {"shot_id", shot_id}, {"word", word}});
}

std::vector<std::string> tags_of(SQLite::Database& db, const Id& shot_id) {
    std::vector<std::string> tags;
    auto found = ask(db, "SELECT word FROM tag WHERE shot_id = ? ORDER BY word", {shot_id});
    while (found.executeStep())
        tags.push_back(found.getColumn(0).getString());
    return tags;
}

void refuse_two_receivers(const Moment& moment) {
    if (std::ranges::count_if(moment.marks, [](const Mark& mark) { return mark.took; }) > 1)
        throw SeasonError(SeasonFault::refused,
                          "A pass went to two opponents at once, so nothing was changed. Say who got it.");
}

std::vector<std::string> SeasonFile::tags() const {
    return insides_->read([](SQLite::Database& db) {
        std::vector<std::string> tags;
        auto found = ask(db, "SELECT DISTINCT word FROM tag ORDER BY word");
        while (found.executeStep())
            tags.push_back(found.getColumn(0).getString());
        return tags;
    });
}

std::set<std::string> SeasonFile::asks() const {
    return insides_->read([](SQLite::Database& db) {
        std::set<std::string> asks;
        auto found = ask(db, "SELECT field FROM season_asks");
        while (found.executeStep())
            asks.insert(found.getColumn(0).getString());
        return asks;
    });
}

void SeasonFile::put_ask(const std::string& field, bool on) {
    change("what we log", [&] {
        SQLite::Database& db = *insides_->db;
        ask(db,
            on ? "INSERT OR IGNORE INTO season_asks (field) VALUES (?)"
               : "DELETE FROM season_asks WHERE field = ?",
            {field})
            .exec();
    });
}

} // namespace ropeline
