// The Log side without a window: what is open, what the hand holds, and every change the coach makes, kept in
// the season file at once. Panels read LogState and send LogActions; nothing here draws or decodes.
#pragma once

#include "desk/state/fit_draft.h"
#include "desk/state/keys.h"
#include "film/film_facts.h"
#include "intake/shot_times.h"
#include "season/season_file.h"

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ropeline {

/// What the next click on the film places.
enum class Hand { empty, first_skate, second_skate, goalie, puck, threat, landmark };

enum class CardField { read, came, situation, strength, outcome, cues };
constexpr int card_fields = 6;
constexpr int asked_fields = 5; ///< those a complete shot has; cues are extra

struct ShotEntry {
    Shot shot;
    std::vector<Moment> moments;
};

/// What the columns of the shot list show.
enum class ShotColumn {
    number,
    time,
    goalie,
    band,
    depth,
    read,
    verdict,
    outcome,
    situation,
    strength,
    note
};

/// How the shot list is sorted, and which shots it shows; see shot_list.h.
struct ListOrder {
    ShotColumn by = ShotColumn::number;
    bool falling = false;
    std::string filter;
};

struct Notice {
    std::string text;
    bool trouble = false;
};

struct LogState {
    Season season;
    std::vector<Team> teams;
    std::vector<Goalie> goalies;
    std::vector<Game> games;
    std::optional<std::size_t> game, film, shot; ///< chosen, as indices
    std::optional<std::size_t> moment;           ///< of the shot; none: the main one
    std::vector<Film> films;                     ///< of the game
    std::vector<ClockMark> clock_marks;          ///< of all of them, by film, then frame
    std::vector<ShotEntry> shots;                ///< of the game, in film order
    std::vector<StoredFit> fits;      ///< of the film, by frame: clicked, and carried ones with marks on them
    std::vector<StoredCarry> carries; ///< where the clicked ones were carried to
    std::vector<StoredFit> other_fits; ///< of the game's other films
    Id goalie_id;                      ///< in net for new shots
    ListOrder list;                    ///< of the shots: Up and Down walk along it
    Hand hand = Hand::empty;
    CardField field = CardField::read;
    std::optional<std::size_t> held; ///< the mark of the moment that arrows nudge
    std::optional<FitDraft> fit;     ///< while the rink is being fitted
    Notice notice;
    std::optional<std::int64_t> jump;   ///< frame the film should go to; the desk takes it
    std::optional<double> jump_s;       ///< the same as a film time
    std::map<Id, std::int64_t> left_at; ///< where each film stood
};

/// Where the film stands while an action happens.
struct FrameAt {
    std::int64_t frame = 0, pts_ticks = 0;
    double film_s = 0.0;
    ImageSize image;
};

struct NewShot {};
struct Arm {
    Hand hand{};
};
struct FilmClick {
    ImagePoint at;
};
struct TakeGhosts {}; ///< the faint marks the hand asks for stay where they are shown
struct DragMark {
    std::size_t mark = 0; ///< among the moment's marks
    ImagePoint at;
    bool done = false;
};
struct HoldMark {
    std::size_t mark = 0;
};
struct TurnThreat { ///< what is known of the held threat: the other way round
    bool one_timer = false, open = false;
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
struct SortList {        ///< by that column; by the same one again: the other way round
    ShotColumn by{};
};
struct FilterList {
    std::string filter;
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
struct KeepFit {};
struct ShowFit { ///< the fit in the making, changed by something that saw the picture
    FitDraft draft;
};

using LogAction =
    std::variant<NewShot, Arm, FilmClick, TakeGhosts, DragMark, HoldMark, TurnThreat, NewMoment, PickMoment,
                 PickMomentBy, NextKind, MoveGoalie, Overrule, SetLevel, SetParameter, Nudge, Choose,
                 ChooseIn, Focus, FocusBy, WriteNote, PutClock, PickGoalie, PutInNet, PickShot, PickShotBy,
                 ShowFilm, ShowFilmBy, SetClock, TurnClock, GoToClock, TurnEnds, TakeShot, RemoveShot,
                 PutDown, Undo, Redo, BeginFit, OfferLandmark, OfferOther, DragClick, RemoveClick, ShowFit,
                 KeepFit, PlaceShotHere, SortList, FilterList, BringIn, PutOnFilm>;

/// Stream time of a film's first and last frame.
struct FilmSpan {
    double first_s = 0.0, last_s = 0.0;
};

struct NewGame {
    std::string date, home, away;
    RuleBookId rules = RuleBookId::nhl;
};

class LogBook {
public:
    explicit LogBook(SeasonFile season);

    const LogState& state() const { return state_; }
    SeasonFile& file() { return file_; }
    const SeasonFile& file() const { return file_; }

    /// Never throws for what a coach can do wrong: the notice says it.
    void apply(const LogAction& action, const FrameAt& at);

    void begin_game(const NewGame& game);
    void add_goalie(const std::string& name, const std::string& team);
    void choose_game(std::size_t index);
    void choose_film(std::size_t index);
    /// Keeps an opened film with the game; a film of the same content that had moved gets its new path.
    void keep_film(const FilmFacts& facts, std::int64_t frame_count,
                   std::optional<FilmSpan> span = std::nullopt);

    /// Keeps where a fit was carried to; moments marked meanwhile on those frames are worked out again.
    void keep_carry(const StoredCarry& carry);

    /// Brings what was changed to the disk when changes are left to keep() (SeasonFile::leave_to_keep). True when
    /// an earlier one did not get there: the book is as before it, and the notice says why.
    bool keep();

    std::optional<std::int64_t> take_jump();
    std::optional<double> take_jump_s();
    /// Is told the share done, 0..1, while the season is worked out again.
    void report_progress(std::function<void(double)> to) { progress_ = std::move(to); }
    /// Commands in brackets are said by their keys.
    void tell(std::string_view text, bool trouble = false) { state_.notice = {with_keys(text), trouble}; }
    void reload();

private:
    friend struct LogHandler;

    void take_back(const SeasonError& error); ///< what stands in the file stands in the book again
    Id team_named(const std::string& name);
    ShotEntry* chosen();
    std::string shot_name() const; ///< "shot 3"
    void reload_shots();
    void reload_film();
    void turn_to_film(std::size_t index);
    void show(const Id& film_id, std::int64_t frame);
    void show_film(std::size_t index, const FrameAt& at);
    void show_film_by(int steps, const FrameAt& at);
    void set_clock(const std::string& text, const FrameAt& at);
    void turn_clock(const FrameAt& at);
    void keep_clock_mark(ClockMark mark);
    void remove_clock_mark(std::int64_t frame);
    void go_to_clock(const std::string& text, const FrameAt& at);
    void time_shots(const Id& film_id);
    void follow_clock(Shot& shot) const;
    void turn_ends();
    void begin_second_view(ShotEntry& entry, const Moment& first, const FrameAt& at);
    void keep_moment(const std::string& name);
    void place(ImagePoint click, const FrameAt& at);
    void take_ghosts(const FrameAt& at);
    void lay_moment_at(Moment& moment, const FrameAt& at);
    void tell_of_fit(std::int64_t frame);
    void warn_of_far_net(const ShotEntry& entry, const Moment& moment);
    void drag_mark(std::size_t mark, ImagePoint to, bool done);
    void begin_moment(const FrameAt& at);
    void pick_moment(std::size_t index);
    void pick_moment_by(int steps);
    void turn_kind();
    void turn_cue(std::size_t cue);
    void remove_moment();
    void remove_shot(bool pick_next);
    void bring_in(const BringIn& list);
    void put_on_film(const PutOnFilm& found);
    void place_on_film(ShotEntry& entry, const FrameAt& at); ///< in the change under way
    void pick_shot_by(int steps, const FrameAt& at);
    bool on_the_film(const ShotEntry& entry); ///< else says so
    void place_shot(const FrameAt& at);
    void remove_held();
    void move_goalie(IcePoint to);
    void turn_threat(const TurnThreat& turn);
    void overrule(const Overrule& overrule);
    void put_in_force(Level level, const Parameters& parameters);
    void set_parameter(const SetParameter& wanted);
    Moment* in_hand();
    void choose_number(CardField field, int number);
    void keep_fit();
    void rederive(const Shot& shot, Moment& moment) const;
    void judge_play(ShotEntry& entry) const;
    void keep_play(const std::string& name, ShotEntry& entry, const std::function<void()>& also);
    void name_fit(Moment& moment);
    void rederive_film();

    SeasonFile file_;
    LogState state_;
    std::function<void(double)> progress_;
};

bool in_picture(ImagePoint at, ImageSize size);

/// The rink as it lies in one frame, and how that is known.
struct FitHere {
    enum class Source {
        none,
        clicked, ///< on this very frame
        carried, ///< followed here through the film
        assumed, ///< clicked on another frame, right only if the camera has not moved since
        lost,    ///< followed, but lost on the way: nothing can be measured
    } source = Source::none;
    const StoredFit* key = nullptr; ///< the clicked fit it rests on
    std::optional<RinkFit> fit;     ///< nothing when none or lost
    CarryState state = CarryState::held;
    double sigma_m = 0.0; ///< of a place on the ice, when carried
};
FitHere fit_here(const LogState& state, std::int64_t frame);
/// The rink as it lies for a moment of the shot, on whichever film that is, turned to the net its goalie
/// defends.
FitHere fit_for(const LogState& state, const Shot& shot, const Moment& moment);
/// The rule book the moment's fit was made by, else the game's.
RuleBookId rules_for(const LogState& state, const Moment& moment);
/// The id of the film on screen, or empty.
const Id& open_film(const LogState& state);
/// 1 for the game's first film; 0 for one that is not of this game.
int film_number(const LogState& state, const Id& film_id);
std::vector<ClockMark> clock_marks_of(const LogState& state, const Id& film_id);
/// Which net a new shot's goalie defends: the only one in the picture, else by the last shot on this film the
/// net of his team then, other way round for the other team or after an odd number of periods, since teams
/// change ends each period (rule books, from memory).
bool likely_far_net(const LogState& state, const Shot& fresh, ImageSize image);
/// The clicked fits of the film, by frame.
std::vector<StoredFit> clicked_fits(const LogState& state);
/// The moment the card works on: the release, else the last.
const Moment* main_moment(const ShotEntry& entry);
/// The moment that is worked on: the one picked among the open shot's, else its main one.
const Moment* moment_in_hand(const LogState& state);
const Mark* find_mark(const Moment& moment, MarkKind kind);
const ShotEntry* chosen_shot(const LogState& state);
/// The choices of a card line, in the order of their numbers, as a coach reads them.
std::vector<std::string_view> choices_of(CardField field);
/// 1-based choice that is set on the shot, or 0.
int chosen_in(const Shot& shot, CardField field);
std::string_view label_of(CardField field);
/// "read", "outcome" ... that are still open on the shot.
std::vector<std::string_view> open_fields(const ShotEntry& entry);
const Goalie* goalie_of(const LogState& state, const Id& id);
std::string team_name(const LogState& state, const Id& id);

} // namespace ropeline
