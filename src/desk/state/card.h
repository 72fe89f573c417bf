// The lines of the shot card: their choices, and what is set.
#pragma once

#include "desk/state/shot_entry.h"
#include "season/details.h"

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

enum class CardField { read, came, situation, strength, outcome, cues };
constexpr int card_fields = 6;  ///< then come the details a season asks for, in the order of details.h
constexpr int asked_fields = 5; ///< those a complete shot has; cues are extra

CardField card_field(Detail detail);
std::optional<Detail> detail_in(CardField field);
/// The lines the card has in this season, in order; `asks` are the keys of what it asks for besides.
std::vector<CardField> shown_fields(const std::set<std::string>& asks);

std::string_view label_of(CardField field);
/// The choices of a card line, in the order of their numbers, as a coach reads them.
std::vector<std::string_view> choices_of(CardField field);
/// 1-based choice that is set on the shot, or 0; what belongs to a moment is never set on the shot.
int chosen_in(const Shot& shot, CardField field);
/// Does the line belong to the moment in hand rather than to the shot?
bool is_of_moment(CardField field);
/// The same for any line but the cues; 0 for what belongs to a moment when there is none.
int chosen_in(const Shot& shot, const Moment* moment, CardField field);
/// Sets the 1-based choice of a line, or clears it when it is set already. Cues are a moment's, not a shot's.
void toggle_choice(Shot& shot, CardField field, int number);
/// "read", "outcome" ... that are still open on the shot.
std::vector<std::string_view> open_fields(const ShotEntry& entry);

} // namespace ropeline
