// What the carrier's body says about the next action.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>

namespace ropeline {

enum class Likelihood { shot, either, pass };
enum class CueKind { blade, eyes, feet, puck_place, away_from_net };

struct Cue {
    CueKind kind{};
    Likelihood says = Likelihood::either;
    bool operator==(const Cue&) const = default;
};

/// What a cue is, for the shot card and the parameters page.
struct CueFact {
    std::string_view key;        ///< "blade"
    std::string_view label;      ///< as a coach reads it
    std::string_view shot, pass; ///< what it looks like when it says so
    int weight = 1;
    std::string_view source;
};
std::span<const CueFact> cue_facts(); ///< in the order of CueKind

/// Weighs the cues: each adds its weight for a shot, takes it for a pass. Two or more either way decide.
/// Out     either, without cues or between the two.
/// Source  own proposal on common practice: blade, puck and a body going away from the net are hard to fake,
///         eyes and feet are used to deceive, so one of those alone decides nothing.
Likelihood likelihood_of(std::span<const Cue> cues);

std::string_view key_of(Likelihood value);
std::string_view key_of(CueKind value);
std::string_view label_of(Likelihood value); ///< "likely shot"
std::optional<Likelihood> likelihood_from_key(std::string_view key);
std::optional<CueKind> cue_kind_from_key(std::string_view key);

} // namespace ropeline
