#include "season/details.h"

namespace ropeline {
namespace {

// Sight, feet and the kinds of shot as goalie coaches speak of them; common practice, no source.
constexpr std::array<DetailChoice, 3> sights = {
    {{"clear", "clear"}, {"partly", "partly screened"}, {"screened", "screened"}}};
constexpr std::array<DetailChoice, 2> feet = {{{"set", "set"}, {"moving", "moving"}}};
constexpr std::array<DetailChoice, 2> posts = {{{"upright", "upright"}, {"down", "down"}}};
constexpr std::array<DetailChoice, 6> shot_types = {{{"wrist", "wrist"},
                                                     {"snap", "snap"},
                                                     {"slap", "slap"},
                                                     {"backhand", "backhand"},
                                                     {"one_timer", "one-timer"},
                                                     {"tip", "tip"}}};
constexpr std::array<DetailChoice, 2> releases = {{{"off_pass", "off the pass"}, {"carried", "carried"}}};
constexpr std::array<DetailChoice, 9> numbers = {{{"1_on_0", "1 on 0"},
                                                  {"1_on_1", "1 on 1"},
                                                  {"1_on_2", "1 on 2"},
                                                  {"2_on_0", "2 on 0"},
                                                  {"2_on_1", "2 on 1"},
                                                  {"2_on_2", "2 on 2"},
                                                  {"3_on_1", "3 on 1"},
                                                  {"3_on_2", "3 on 2"},
                                                  {"3_on_3", "3 on 3"}}};
constexpr std::array<DetailChoice, 6> net_places = {{{"high_glove", "high glove"},
                                                     {"high_middle", "high middle"},
                                                     {"high_blocker", "high blocker"},
                                                     {"low_glove", "low glove"},
                                                     {"low_middle", "low middle"},
                                                     {"low_blocker", "low blocker"}}};
constexpr std::array<DetailChoice, 5> saves = {
    {{"stick", "stick"}, {"pads", "pads"}, {"glove", "glove"}, {"blocker", "blocker"}, {"body", "body"}}};
constexpr std::array<DetailChoice, 5> rebounds = {{{"in_front", "in front"},
                                                   {"glove_side", "glove side"},
                                                   {"blocker_side", "blocker side"},
                                                   {"behind_net", "behind the net"},
                                                   {"out_of_play", "out of play"}}};
constexpr std::array<DetailChoice, 2> hands = {{{"left", "left"}, {"right", "right"}}};
constexpr std::array<DetailChoice, 2> drill_states = {{{"assigned", "assigned"}, {"done", "done"}}};

constexpr std::array<DetailFact, detail_count> facts = {{{"sight", "sight", true, sights},
                                                         {"feet", "feet", true, feet},
                                                         {"post", "on the post", true, posts},
                                                         {"shot_type", "shot type", false, shot_types},
                                                         {"released", "released", false, releases},
                                                         {"numbers", "numbers", false, numbers},
                                                         {"net_place", "puck went", false, net_places},
                                                         {"saved_with", "saved with", false, saves},
                                                         {"rebound_to", "rebound to", false, rebounds},
                                                         {"shooter_hand", "shoots", false, hands},
                                                         {"drill_state", "drill is", false, drill_states}}};

const DetailChoice* choice_in(const Details& details, Detail detail) {
    const int chosen = details.of(detail);
    if (chosen == 0) return nullptr;
    return &fact_of(detail).choices[static_cast<std::size_t>(chosen - 1)];
}

} // namespace

std::span<const DetailFact, detail_count> detail_facts() {
    return facts;
}

const DetailFact& fact_of(Detail detail) {
    return facts.at(static_cast<std::size_t>(detail));
}

void Details::set(Detail detail, int choice) {
    const bool there = choice >= 1 && static_cast<std::size_t>(choice) <= fact_of(detail).choices.size();
    chosen.at(static_cast<std::size_t>(detail)) = static_cast<std::uint8_t>(there ? choice : 0);
}

std::string_view key_of(const Details& details, Detail detail) {
    const DetailChoice* choice = choice_in(details, detail);
    return choice ? choice->key : std::string_view{};
}

std::string_view label_of(const Details& details, Detail detail) {
    const DetailChoice* choice = choice_in(details, detail);
    return choice ? choice->label : std::string_view{};
}

std::optional<Numbers> numbers_of(const Details& details) {
    const std::string_view key = key_of(details, Detail::numbers);
    if (key.empty()) return std::nullopt;
    return Numbers{key.front() - '0', key.back() - '0'};
}

} // namespace ropeline
