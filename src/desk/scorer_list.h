// A scorer's list that was dropped on the desk: how it is read, and what of it would come in.
#pragma once

#include "desk/state/bring_in.h"
#include "intake/csv_table.h"
#include "intake/shot_times.h"

#include <optional>
#include <string>

namespace ropeline {

struct ScorerList {
    std::string name;
    CsvTable table;
    ListReading reading;
    ComingIn coming;
    NamesTold told;          ///< whom the coach said a name means
    std::size_t column = 0;  ///< the one in hand: the arrow keys change what it holds
    bool to_column = false;  ///< the columns scroll to it
    bool with_film = false;  ///< a film was open when it was read
    std::size_t goalies = 0; ///< of the season, when it was read
};

/// A list of shots by its file's ending.
bool is_scorer_list(const std::string& path);
/// Out     nothing when the file cannot be read
std::optional<ScorerList> read_scorer_list(const std::string& path);
/// Against the open game again.
void read_again(ScorerList& list, const LogState& log, const FrameTable* frames);
/// The same when a film was opened since, or a goalie added.
void read_again_if_needed(ScorerList& list, const LogState& log, const FrameTable* frames);
/// 1: the first row names the columns; 2: feet or metres; 3: from the net or from the middle of the rink.
void turn_list_switch(ScorerList& list, int number);
void hold_in_column(ScorerList& list, std::size_t column, ListColumn holds);
/// The column in hand holds the next thing a column can hold, or the one before.
void turn_column(ScorerList& list, int steps);
void go_to_column(ScorerList& list, int steps);

/// Rows of that name are that goalie's.
void tell_name(ScorerList& list, const std::string& written, const Id& goalie_id);

/// The open film as far as a list needs it.
FilmAt film_at(const LogState& log, const FrameTable* frames);

} // namespace ropeline
