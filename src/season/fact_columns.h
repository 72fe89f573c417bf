// Inside src/season: which columns a shot's facts are read from, and each into its member. By place and not by name, since
// they are read a hundred thousand times.
#pragma once

#include "season/raw_statement.h"
#include "season/records.h"

namespace ropeline {

/// Reads the columns of a row one after the other.
class NextColumn {
public:
    explicit NextColumn(const RawStatement& row, int first = 0) : row_(row), column_(first) {}

    std::string text() { return std::string{row_.text(column_++)}; } ///< NULL is ""
    std::int64_t integer() { return row_.integer(column_++); }
    double real() { return row_.real(column_++); }

    std::optional<double> optional_real() {
        const int column = column_++;
        return row_.is_null(column) ? std::nullopt : std::optional{row_.real(column)};
    }
    std::optional<int> optional_integer() {
        const int column = column_++;
        return row_.is_null(column) ? std::nullopt : std::optional{static_cast<int>(row_.integer(column))};
    }
    std::optional<bool> optional_flag() {
        const int column = column_++;
        return row_.is_null(column) ? std::nullopt : std::optional{row_.integer(column) != 0};
    }

    /// Throws SeasonError::damaged for a word that this program does not know.
    template <class Enum>
    std::optional<Enum> optional_word() {
        const int column = column_++;
        if (row_.is_null(column)) return std::nullopt;
        if (const auto value = from_key<Enum>(row_.text(column))) return value;
        refuse(column);
    }

    void details(Details& details, bool of_moment);

private:
    [[noreturn]] void refuse(int column) const;
    const RawStatement& row_;
    int column_;
};

/// The columns of a shot for read_shot_columns(), of a moment for the two after it.
std::string shot_columns();
void read_shot_columns(NextColumn& next, ShotFact& fact);
std::string moment_columns();
void read_moment_columns(NextColumn& next, ShotFact& fact);
void read_pass_columns(NextColumn& next, ShotFact::PassFact& pass);

} // namespace ropeline
