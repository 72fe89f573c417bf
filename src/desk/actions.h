// What panels and keys ask of the desk in a turn; update() carries it out, in order, before the next is drawn.
#pragma once

#include "desk/exports.h"
#include "desk/season_pages.h"
#include "desk/season_part.h"
#include "desk/state/actions.h"
#include "desk/state/chooser.h"
#include "desk/state/keys.h"
#include "unite/merge.h"

#include <cstddef>
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
struct AskToMove { ///< a shot, dragged along the ribbon
    Id shot_id;
    FrameAt to;
};
struct Number { ///< as if that number key was pressed
    int number = 0;
};
struct MakeSeason {}; ///< as the form of the start page says
struct OpenRecent {   ///< among the recent seasons
    std::size_t index = 0;
};
struct ChooseFile { ///< opens the chooser
    ChooserFor what{};
};
struct EnterChoice {};  ///< in the chooser: what is picked or typed
struct AskSystem {};    ///< the system's own window instead of the chooser
struct MakeOwn {};      ///< from the season to learn on to the form of a new one
struct MakePractice {}; ///< a season to learn on, its film rendered first
struct StudyMoment {    ///< its decision: the film runs up to it and stops
    Id moment_id;
};
struct CallRead { ///< the goalie's call on the decision under study
    Read call{};
};
struct CallSure { ///< and how sure he is of it
    Sureness sure{};
};
struct CallPlace { ///< and where he wants to stand
    IcePoint place;
};
struct LeaveStudy {};  ///< back to the list
struct ShowSitting {}; ///< how the answers went
struct SayWhoAnswers { ///< remembered until it is somebody else
    std::string name;
};
struct StopFilmBefore { ///< the moment, by so much; remembered
    double seconds = 0.0;
};
struct AskHowSure { ///< after the call, or not; remembered
    bool ask = false;
};
struct MakeExport { ///< as its page says
    ExportKind kind{};
};
struct HandoutFor {
    Id goalie_id;
};
struct StopExport {};
struct RecordVoice {}; ///< over the reel that was made last
struct KeepVoice {};
struct DropVoice {};
struct OpenOnFilm { ///< that shot, from wherever it is shown
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
struct TellName { ///< whom a name in the scorer's list means; no id: a goalie who is added under that name
    std::string written;
    Id goalie_id;
};
struct HoldInColumn { ///< what a column of the scorer's list holds
    std::size_t column = 0;
    ListColumn holds{};
};
struct MakeOneSeason {}; ///< of the open one and another coach's, as their page says
struct DecideBetween {   ///< what both changed; no id: all of it
    Id id;
    Keep keep{};
};
struct OpenOneSeason {};

using DeskAction =
    std::variant<LogAction, Press, Tell, OpenFile, OpenRecent, ChooseFile, EnterChoice, AskSystem, AskToMove,
                 Number, MakeSeason, MakeOwn, MakePractice, StudyMoment, CallRead, CallSure, CallPlace,
                 LeaveStudy, ShowSitting, SayWhoAnswers, StopFilmBefore, AskHowSure, MakeExport, HandoutFor,
                 StopExport, RecordVoice, KeepVoice, DropVoice, OpenOnFilm, ShowSeason, CompareSeason,
                 CompareSeasonBy, SortGoalies, SavePapers, TurnListSwitch, TellName, HoldInColumn,
                 MakeOneSeason, DecideBetween, OpenOneSeason>;
using Actions = std::vector<DeskAction>;

} // namespace ropeline
