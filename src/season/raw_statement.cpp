#include "season/raw_statement.h"

#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

namespace ropeline {

void RawStatement::Finalize::operator()(sqlite3_stmt* owned) const noexcept {
    sqlite3_finalize(owned);
}

RawStatement::RawStatement(SQLite::Database& db, const std::string& sql) : db_(db) {
    sqlite3_stmt* made = nullptr;
    const int result =
        sqlite3_prepare_v2(db.getHandle(), sql.c_str(), static_cast<int>(sql.size()), &made, nullptr);
    statement_.reset(made);
    check(result);
}

void RawStatement::check(int result) const {
    if (result != SQLITE_OK) throw SQLite::Exception(db_.getHandle(), result);
}

bool RawStatement::step() {
    const int result = sqlite3_step(get());
    if (result == SQLITE_ROW) return true;
    if (result != SQLITE_DONE) check(result);
    return false;
}

void RawStatement::run() {
    while (step())
        continue;
    sqlite3_reset(get());
}

int RawStatement::columns() const {
    return sqlite3_column_count(get());
}

std::string_view RawStatement::name(int column) const {
    return sqlite3_column_name(get(), column);
}

std::string_view RawStatement::text(int column) const {
    const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(get(), column));
    return {bytes ? bytes : "", static_cast<std::size_t>(sqlite3_column_bytes(get(), column))};
}

std::int64_t RawStatement::integer(int column) const {
    return sqlite3_column_int64(get(), column);
}

double RawStatement::real(int column) const {
    return sqlite3_column_double(get(), column);
}

bool RawStatement::is_null(int column) const {
    return sqlite3_column_type(get(), column) == SQLITE_NULL;
}

bool RawStatement::is_text(int column) const {
    return sqlite3_column_type(get(), column) == SQLITE_TEXT;
}

bool RawStatement::is_real(int column) const {
    return sqlite3_column_type(get(), column) == SQLITE_FLOAT;
}

void RawStatement::bind_text(int place, std::string_view text) {
    check(sqlite3_bind_text(get(), place, text.data(), static_cast<int>(text.size()), SQLITE_TRANSIENT));
}

void RawStatement::bind_integer(int place, std::int64_t value) {
    check(sqlite3_bind_int64(get(), place, value));
}

void RawStatement::bind_null(int place) {
    check(sqlite3_bind_null(get(), place));
}

void RawStatement::bind_from(int place, const RawStatement& row, int column) {
    check(sqlite3_bind_value(get(), place, sqlite3_column_value(row.get(), column)));
}

} // namespace ropeline
