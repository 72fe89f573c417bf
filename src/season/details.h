// What a coach may log of a shot or a moment beyond the lines that every shot has: a table with a row a field. The
// column of the season file, the CSV file, the card's line and the list's filter follow from the row.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

namespace ropeline {

enum class Detail {
    sight, ///< of a moment, like the two after it
    feet,
    post,
    shot_type,
    released,
    numbers,
    net_place,
    saved_with,
    rebound_to,
    shooter_hand,
    drill_state
};
constexpr int detail_count = 11;

struct DetailChoice {
    std::string_view key, label; ///< as it is stored; as a coach reads it
};

struct DetailFact {
    std::string_view key, label; ///< its column; its line on the card
    bool of_moment = false;      ///< else of the shot
    std::span<const DetailChoice> choices;
};

std::span<const DetailFact, detail_count> detail_facts();
const DetailFact& fact_of(Detail detail);

/// The details of one shot or moment: of each the 1-based choice, 0 where it is not known.
struct Details {
    std::array<std::uint8_t, detail_count> chosen{};

    int of(Detail detail) const { return chosen.at(static_cast<std::size_t>(detail)); }
    /// A choice that the field does not have leaves it not known.
    void set(Detail detail, int choice);
    bool operator==(const Details&) const = default;
};

// Of what is chosen: "high_glove", "high glove"; empty where it is not known.
std::string_view key_of(const Details& details, Detail detail);
std::string_view label_of(const Details& details, Detail detail);

/// Attackers and defenders in the play; none where the numbers are not known.
struct Numbers {
    int attackers = 0, defenders = 0;
};
std::optional<Numbers> numbers_of(const Details& details);

} // namespace ropeline
