// What panels and keys ask of the desk in a turn; update() carries it out, in order, before the next is drawn.
#pragma once

#include "desk/season_pages.h"
#include "desk/season_part.h"
#include "desk/state/actions.h"
#include "desk/state/keys.h"

#include <string>
#include <variant>
#include <vector>

namespace ropeline {

struct Press { ///< as if its key was
    Command command{};
};
struct Tell {
    std::string text;
    bool trouble = false;
};
struct OpenFile { ///< a film, or a list of shots, as typed
    std::string path;
};
struct MakeSeason {};   ///< as the first-run page says
struct MakePractice {}; ///< a season to learn on, its film rendered first
struct StudyShot {      ///< its decision: the film runs up to it and stops
    Id shot_id;
};
struct CallRead { ///< the goalie's call on the decision under study
    Read call{};
};
struct CallPlace { ///< and where he wants to stand
    IcePoint place;
};
struct LeaveStudy {}; ///< back to the list
struct OpenOnFilm {   ///< that shot, from wherever it is shown
    Id shot_id;
};
struct ShowSeason {
    SeasonView view{};
};
struct CompareSeason { ///< those two
    Comparison comparison;
};
struct CompareSeasonBy { ///< the two with the most shots
    CompareBy by{};
};
struct SortGoalies { ///< by that column; by the same one again: the other way round
    GoalieColumn by{};
};
struct SavePapers {
    SeasonPaper paper{};
};
struct TurnListSwitch {
    int number = 0; ///< see turn_list_switch()
};
struct HoldInColumn { ///< what a column of the scorer's list holds
    std::size_t column = 0;
    ListColumn holds{};
};

using DeskAction = std::variant<LogAction, Press, Tell, OpenFile, MakeSeason, MakePractice, StudyShot,
                                CallRead, CallPlace, LeaveStudy, OpenOnFilm, ShowSeason, CompareSeason,
                                CompareSeasonBy, SortGoalies, SavePapers, TurnListSwitch, HoldInColumn>;
using Actions = std::vector<DeskAction>;

} // namespace ropeline
