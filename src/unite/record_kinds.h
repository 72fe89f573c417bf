// Inside src/unite: what a season file is made of, as records: what two coaches can each have changed. A moment with its
// marks is one record, since half of one coach's marks with half of another's would be a play that nobody saw.
#pragma once

#include <span>
#include <string_view>
#include <vector>

namespace ropeline {

enum class RecordKind { season, team, goalie, game, film, rink_fit, clock_mark, shot, moment, answer };

struct KindFact {
    RecordKind kind{};
    const char* table = "";
    const char* label = "";               ///< as a coach reads it
    std::vector<std::string_view> owners; ///< columns: what it goes with when that is removed
    std::vector<std::string_view> needs;  ///< further columns: what it cannot be without
    const char* figures = "";             ///< what other records' figures rest on, as SQL; empty: all of it
};

/// What a record needs comes before it.
std::span<const KindFact> kind_facts();
const KindFact& fact_of(RecordKind kind);

/// Rows that belong to a record of another table: record_of() says to which.
struct PartFact {
    const char* table = "";
    const char* label = "";
    const char* from = ""; ///< table and what it is joined to
    const char* also = ""; ///< SQL of further columns that say which part it is
    bool figures = false;  ///< other records' figures rest on it
};
std::span<const PartFact> part_facts();

/// Whether a column holds the id of a record.
bool holds_an_id(std::string_view column);

} // namespace ropeline
