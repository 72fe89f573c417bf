// Everything a coach can do to the log, as values: panels and keys make them, LogBook::apply() carries them out.
#pragma once

#include "desk/state/card.h"
#include "desk/state/followed_to.h"
#include "desk/state/frame_at.h"
#include "desk/state/list_order.h"
#include "desk/state/logged.h"
#include "desk/state/selection.h"
#include "film/film_facts.h"
#include "intake/shot_times.h"

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ropeline {

struct NewShot {};
struct Arm {
    Hand hand{};
};
struct FilmClick {
    ImagePoint at;
};
struct TakeGhosts {};  ///< the faint marks the hand asks for stay where they are shown
struct OfferFollowed { ///< where marks were followed to; drawn faintly, not taken
    FollowedTo to;
};
struct DragMark {
    std::size_t mark = 0; ///< among the moment's marks
    ImagePoint at;
    bool done = false;
};
struct HoldMark {
    std::size_t mark = 0;
};
struct TurnThreat { ///< what is known of the held threat: the other way round
    bool receiver = false, lane = false, took = false; ///< what turns
};
struct NewMoment {}; ///< of the open shot, at this frame
struct PickMoment {
    std::size_t index = 0;
};
struct PickMomentBy {
    int steps = 0;
};
struct MoveGoalie { ///< his marks go to this place on the ice
    IcePoint to;
};
struct SetLevel { ///< the usual figures of that level, all of them
    Level level{};
};
struct SetParameter {
    std::string key;
    double value = 0.0;
};
struct NextKind {}; ///< what kind of moment this is: the next kind
struct Overrule {   ///< none: the model's verdict stands again
    std::optional<Verdict> verdict;
    std::string reason;
};
struct Nudge {
    double dx_px = 0.0, dy_px = 0.0;
};
struct Choose {
    int number = 0;
}; ///< 1-based choice of the field in focus
struct ChooseIn {
    CardField field{};
    int number = 0;
};
struct Focus {
    CardField field{};
};
struct FocusBy {
    int steps = 0;
};
struct WriteNote {
    std::string text;
};
struct PutClock {
    std::optional<int> period;
    std::optional<double> clock_s;
};
struct PickGoalie {
    Id id;
}; ///< of the open shot, and of new ones
struct PutInNet {
    Id id;
}; ///< of new shots
struct PickShot {
    std::size_t index = 0;
};
struct PickShotBy {
    int steps = 0;
};
struct ShowFilm { ///< of the game, with the shot left open
    std::size_t index = 0;
};
struct ShowFilmBy {
    int steps = 0;
};
struct SetClock { ///< what the game clock shows here, as typed: "2 14:35", "14:35", "stop"; empty: no mark
                  ///< here
    std::string text;
};
struct TurnClock {}; ///< a whistle: the clock stands from here; where it stands, it starts again
struct GoToClock {   ///< "2 14:35"
    std::string text;
};
struct TurnEnds {}; ///< the open shot's goalie defends the net at the other end of the fit
struct TakeShot {};
struct RemoveShot {
    bool whole =
        false; ///< the shot itself, whatever of it is in hand; the next one in the list is then picked
};
struct PlaceShotHere {}; ///< the open shot, which has no place on the film yet, is at this frame
struct MoveShot { ///< to another frame of its film; the marks of its release, made on the frame before, go
    Id shot_id;
    FrameAt to;
};
struct SortList { ///< by that column; by the same one again: the other way round
    ShotColumn by{};
};
struct FilterList {
    std::string filter;
};
struct FilterFacts { ///< what the Season side and the shot list are about
    FactFilter only;
};
/// A row of a scorer's list that becomes a shot; see bring_in.h.
struct ComingShot {
    ListedShot listed;
    Id goalie_id;
    std::optional<FrameAt> at; ///< on the open film; none: no place on the film yet
};
struct BringIn {
    std::string from; ///< name of the list
    std::vector<ComingShot> shots;
};
struct FoundPlace {
    std::size_t shot = 0; ///< among LogState::shots
    FrameAt at;           ///< on the open film
};
struct PutOnFilm { ///< shots without a place, where the game clock says they are
    std::vector<FoundPlace> places;
};
struct PutDown {};
struct Undo {};
struct Redo {};
struct BeginFit {};
struct OfferLandmark {
    std::string name;
};
struct OfferOther {};
struct DragClick {
    std::size_t index = 0;
    ImagePoint at;
};
struct RemoveClick {
    std::size_t index = 0;
};
struct SwapSides {}; ///< left and right of all clicks of the fit
struct KeepFit {};
struct OfferFit { ///< found by the paint of this frame alone; drawn, not taken
    std::int64_t frame = 0;
    RinkFit fit;
};
struct TakeProposal {};
struct ShowFit { ///< the fit in the making, changed by something that saw the picture
    FitDraft draft;
};

struct NewGame {
    std::string date, home, away;
    RuleBookId rules = RuleBookId::nhl;
};
struct NewGoalie { ///< in net for new shots from then on
    std::string name, team;
};
struct BeginSeason { ///< its first goalie and first game, which cannot be undone
    NewGoalie goalie;
    NewGame game;
};
struct ChooseGame { ///< and its first film
    std::size_t index = 0;
};
struct ReopenAt { ///< where the season was left; what is not there any more is passed over
    Id game_id, film_id;
    std::int64_t frame = 0;
};
struct ChooseFilm { ///< of the game, with no shot open
    std::size_t index = 0;
};
struct KeepFilm { ///< an opened film, with the game; one of the same content that had moved gets its new path
    FilmFacts facts;
    std::int64_t frame_count = 0;
    std::optional<FilmSpan> span{};
    std::vector<std::byte> index{}; ///< opens it faster next time; empty: not known
};
struct KeepFilmMarks {       ///< what looking the film on screen through found, as far as it went
    std::string fingerprint; ///< of that film
    std::vector<std::byte> marks;
};
struct KeepCarry { ///< where a fit was carried to; moments on those frames are worked out again
    StoredCarry carry;
};
struct TurnDetail { ///< of the moment in hand or the open shot: the next choice, after the last one not known
    Detail detail{};
};
struct JoinRebound {}; ///< the open shot's rebound led to the next shot of its film; or to none again
struct WriteShotText {
    ShotText field{};
    std::string text;
};
struct TurnAsk { ///< the card asks for that field from now on; or no more
    std::string field;
};
struct NameReviewer { ///< who tags the shots logged from now on
    std::string name;
};
struct MeasureGoalie { ///< none: the season's figures
    Id id;
    std::optional<double> height_m, blocking_width_m, lateral_speed_mps;
};
// Answers are none of the log's changes: its undo passes over them, Study has one of its own.
struct KeepAnswer { ///< given in Study; what it was worth and when it comes back are filled in
    Answer answer;
};
struct TakeAnswers { ///< out of a handout
    std::vector<Answer> answers;
};
struct TakeBackAnswers { ///< of one person
    std::vector<Answer> answers;
};

using LogAction =
    std::variant<NewGame, NewGoalie, BeginSeason, ChooseGame, ReopenAt, ChooseFilm, KeepFilm, KeepFilmMarks,
                 KeepCarry, KeepAnswer, TakeAnswers, TakeBackAnswers, NewShot, Arm, FilmClick, TakeGhosts,
                 OfferFollowed, DragMark, HoldMark, TurnThreat, NewMoment, PickMoment, PickMomentBy, NextKind,
                 MoveGoalie, Overrule, SetLevel, SetParameter, Nudge, Choose, ChooseIn, Focus, FocusBy,
                 WriteNote, PutClock, PickGoalie, PutInNet, PickShot, PickShotBy, ShowFilm, ShowFilmBy,
                 SetClock, TurnClock, GoToClock, TurnEnds, TakeShot, RemoveShot, PutDown, Undo, Redo,
                 BeginFit, OfferLandmark, OfferOther, DragClick, RemoveClick, OfferFit, TakeProposal, ShowFit,
                 SwapSides, KeepFit, PlaceShotHere, MoveShot, SortList, FilterList, FilterFacts, BringIn,
                 PutOnFilm, TurnDetail, JoinRebound, WriteShotText, TurnAsk, NameReviewer, MeasureGoalie>;

} // namespace ropeline
