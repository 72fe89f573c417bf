#include "unite/record_kinds.h"

#include <algorithm>
#include <array>

namespace ropeline {

std::span<const KindFact> kind_facts() {
    static const std::array<KindFact, 10> facts{{
        {RecordKind::season, "season", "season", {}, {}, "level"},
        {RecordKind::team, "team", "team", {}, {}, "1"},
        {RecordKind::goalie,
         "goalie",
         "goalie",
         {},
         {"team_id"},
         "height_m, blocking_width_m, lateral_speed_mps"},
        {RecordKind::game, "game", "game", {}, {"home_team_id", "away_team_id"}, "rules"},
        {RecordKind::film, "film", "film", {"game_id"}, {}, "1"},
        {RecordKind::rink_fit, "rink_fit", "rink fit", {"film_id", "carried_from"}, {}, ""},
        {RecordKind::clock_mark, "clock_mark", "game clock", {"film_id"}, {}, "1"},
        {RecordKind::shot, "shot", "shot", {"game_id"}, {"goalie_id", "film_id", "rebound_shot_id"}, ""},
        {RecordKind::moment, "moment", "moment", {"shot_id", "same_as"}, {"film_id"}, ""},
        {RecordKind::answer, "answer", "answer", {"moment_id"}, {"goalie_id"}, "1"},
    }};
    return facts;
}

const KindFact& fact_of(RecordKind kind) {
    return kind_facts()[static_cast<std::size_t>(kind)];
}

std::span<const PartFact> part_facts() {
    static constexpr std::array<PartFact, 6> facts{{
        {"parameter", "figures of the model", "parameter", "", true},
        {"season_asks", "what the card asks for", "season_asks", "", false},
        {"tag", "tags", "tag", "", true},
        {"mark", "marks", "mark", "", true},
        {"threat", "threats", "threat JOIN mark ON mark.id = threat.mark_id", "mark.ordinal", true},
        {"cue", "cues", "cue", "", true},
    }};
    return facts;
}

bool holds_an_id(std::string_view column) {
    return column == "id" || column == "carried_from" || column == "same_as" || column.ends_with("_id");
}

} // namespace ropeline
