// Inside src/season, src/unite and src/publish: a statement by SQLite's own calls, for the many rows where looking a column up by its name
// costs more than reading it.
#pragma once

#include <SQLiteCpp/Database.h>

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

struct sqlite3_stmt;

namespace ropeline {

class RawStatement {
public:
    /// Throws  SQLite::Exception.
    RawStatement(SQLite::Database& db, const std::string& sql);

    bool step(); ///< true: a row is ready
    void run();  ///< to its end, and ready for the next values
    int columns() const;
    std::string_view name(int column) const;
    std::string_view text(int column) const; ///< until the next step; NULL is ""
    std::int64_t integer(int column) const;
    double real(int column) const;
    bool is_null(int column) const;
    bool is_text(int column) const;
    bool is_real(int column) const;
    void bind_text(int place, std::string_view text);
    void bind_integer(int place, std::int64_t value);
    void bind_null(int place);
    void bind_from(int place, const RawStatement& row, int column);
    sqlite3_stmt* get() const { return statement_.get(); }

private:
    struct Finalize {
        void operator()(sqlite3_stmt* owned) const noexcept;
    };
    void check(int result) const;
    SQLite::Database& db_;
    std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

} // namespace ropeline
