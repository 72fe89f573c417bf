// Inside src/season: rows in and out of SQLite by column name, and SQLite's failures in the words of a coach.
#pragma once

#include "season/season_file.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <fmt/core.h>

#include <cstdint>
#include <initializer_list>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <variant>

namespace ropeline {

using Value = std::variant<std::monostate, std::int64_t, double, std::string>; ///< monostate is NULL

struct Cell {
    const char* column;
    Value value;
};

inline Value id_or_null(const Id& id) {
    return id.empty() ? Value{} : Value{id};
}

inline Value value_or_null(const std::optional<double>& value) {
    return value ? Value{*value} : Value{};
}

[[noreturn]] void refuse_unknown_choice();

/// The word kept for it. Throws SeasonError::refused for a number that is none of the enumeration's.
template <class Enum>
std::string word_of(Enum value) {
    try {
        return std::string{key_of(value)};
    } catch (const std::out_of_range&) {
        refuse_unknown_choice();
    }
}

template <class Enum>
Value key_or_null(const std::optional<Enum>& value) {
    return value ? Value{word_of(*value)} : Value{};
}

/// Inserts the row, or brings the one with the same key (the first cell) up to date.
/// Throws SeasonError::refused for a number that is not finite or a text with a zero byte.
void upsert(SQLite::Database& db, const char* table, std::span<const Cell> row);
inline void upsert(SQLite::Database& db, const char* table, std::initializer_list<Cell> row) {
    upsert(db, table, std::span{row.begin(), row.size()});
}

/// A statement with its parameters bound, in order.
SQLite::Statement ask(SQLite::Database& db, const std::string& sql,
                      std::initializer_list<Value> parameters = {});

/// Reads columns of the current row by name.
class Row {
public:
    explicit Row(const SQLite::Statement& statement) : statement_(statement) {}

    bool is_null(const char* column) const { return statement_.getColumn(column).isNull(); }
    std::string text(const char* column) const {
        return statement_.getColumn(column).getString();
    } ///< NULL is ""
    std::int64_t integer(const char* column) const { return statement_.getColumn(column).getInt64(); }
    double real(const char* column) const { return statement_.getColumn(column).getDouble(); }

    std::optional<double> optional_real(const char* column) const {
        return is_null(column) ? std::nullopt : std::optional{real(column)};
    }

    std::optional<bool> optional_flag(const char* column) const {
        return is_null(column) ? std::nullopt : std::optional{integer(column) != 0};
    }

    /// Throws SeasonError::damaged for a word that this program does not know.
    template <class Enum>
    std::optional<Enum> optional_word(const char* column) const {
        if (is_null(column)) return std::nullopt;
        const std::string key = text(column);
        if (const auto value = from_key<Enum>(key)) return value;
        unknown_word(column, key);
    }

    template <class Enum>
    Enum word(const char* column) const {
        if (const auto value = optional_word<Enum>(column)) return *value;
        unknown_word(column, "");
    }

    [[noreturn]] static void unknown_word(const char* column, const std::string& key);

private:
    const SQLite::Statement& statement_;
};

/// Line ends become spaces.
std::string one_line(std::string text);

/// What went wrong, as one line with the file's name in front.
[[noreturn]] void fail(SeasonFault fault, const std::filesystem::path& path, const std::string& what);

/// SQLite's own failure in the same form.
[[noreturn]] void fail(const SQLite::Exception& error, const std::filesystem::path& path);

/// The file system's failure in the same form.
[[noreturn]] void fail(const std::filesystem::filesystem_error& error, const std::filesystem::path& path);

/// Runs the body; a failure of SQLite's or of the file system's leaves as a SeasonError.
template <class Body>
auto guarded(const std::filesystem::path& path, Body&& body) -> decltype(body()) {
    try {
        return body();
    } catch (const SQLite::Exception& error) {
        fail(error, path);
    } catch (const std::filesystem::filesystem_error& error) {
        fail(error, path);
    }
}

} // namespace ropeline
