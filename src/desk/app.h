// Everything the window holds, and what a key, a dropped file or a passing moment does to it. The drawing is
// in panels/.
#pragma once

#include "desk/desk.h"
#include "desk/film_texture.h"
#include "desk/look.h"
#include "desk/sound_out.h"
#include "desk/state/bring_in.h"
#include "desk/state/glimpse.h"
#include "desk/state/guide.h"
#include "desk/state/keys.h"
#include "desk/state/layout.h"
#include "desk/state/log_book.h"
#include "desk/state/player.h"
#include "desk/state/ribbon_view.h"
#include "desk/state/settings.h"
#include "desk/state/study.h"
#include "film/film_desk.h"
#include "follow/carry_ahead.h"

#include <array>
#include <atomic>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace ropeline {

enum class Side { log, study, season };

/// What the first-run page asks for.
struct FirstRunForm {
    std::string season = "My season", league, goalie, team, opponent, date, film, path;
    bool path_typed = false; ///< until then the path follows the season's name
    int rules = 0, level = 2;
};

/// The film to learn on, made in the background.
struct Practice {
    std::filesystem::path folder;
    std::atomic<int> per_cent{0};
    int shown = 0; ///< per cent, on screen
    std::atomic<bool> done{false};
    std::string error; ///< written before `done`
    std::jthread thread;
};

/// What the games page asks for.
struct GamesForm {
    std::string date, home, away, goalie, team, film;
};

/// A mark or a landmark click that follows the mouse.
struct Drag {
    std::optional<std::size_t> mark; ///< among the moment's marks
    std::optional<std::size_t> click;
    ImagePoint offset; ///< from the cursor to the mark when it was taken
};

/// The small field for the game clock over the picture.
enum class ClockField { closed, set, go_to };
/// A cell of the shot list whose choices are open.
struct OpenCell {
    Id shot_id;
    ShotColumn column{};
    Rect at{};
    bool opened = false;
};

/// The shot list as it stands in the window.
struct ListView {
    bool whole_page = false;
    bool find = false;   ///< the field that finds shots takes the keys from the next turn on
    bool typing = false; ///< it has them
    std::optional<OpenCell> open;
    std::optional<std::size_t> shown; ///< the shot it was scrolled to
};

/// A scorer's list that was dropped on the desk: how it is read, and what of it would come in.
struct ListPage {
    std::string name;
    CsvTable table;
    ListReading reading;
    ComingIn coming;
    std::size_t column = 0;  ///< the one in hand: the arrow keys change what it holds
    bool with_film = false;  ///< a film was open when it was read
    std::size_t goalies = 0; ///< of the season, when it was read
    bool to_column = false;  ///< the columns scroll to the one in hand
};

struct App {
    Look look;
    Settings settings;
    Side side = Side::log;
    std::optional<LogBook> book;
    std::string trouble; ///< shown while no season is open

    std::unique_ptr<FilmDesk> film;
    std::string film_path;
    bool film_kept = false; ///< its row is in the season file
    FilmTexture texture;
    std::unique_ptr<CarryAhead> carry; ///< follows the clicked fits through the open film
    bool carry_wanted = true;
    std::vector<Id> not_carried; ///< clicked fits that cannot be followed, told once each
    std::optional<FrameIndex> on_screen;
    Player player;
    RibbonView ribbon;                         ///< the stretch it shows; empty: all of the film
    std::optional<FrameIndex> ribbon_followed; ///< the frame it was last moved for
    std::unique_ptr<Glimpse> glimpse;          ///< looks at the film where the cursor is over the ribbon
    FilmTexture glimpse_texture;
    std::optional<FrameIndex> glimpse_wanted; ///< this turn
    std::int64_t glimpse_within = 0;          ///< frames that lie in a pixel or two of the ribbon
    SoundOut sound;
    bool muted = false;
    FilmView view;
    int step_held = 0;        ///< way of the frame key that is down
    double step_held_s = 0.0; ///< for how long
    std::optional<Drag> drag;

    bool key_sheet = false, games_page = false, parameters_page = false, note_open = false,
         overrule_open = false;
    std::string note_text, clock_text, overrule_text;
    ClockField clock_field = ClockField::closed;
    std::string clock_entry;       ///< typed in it
    bool clock_sent = false;       ///< it closes once the log book took what was typed
    bool overrule_written = false; ///< the reason is, so that the number keys choose the verdict
    std::optional<IcePoint>
        tried; ///< the goalie dragged on the plan, kept nowhere: what if he had stood here
    FirstRunForm first_run;
    std::function<void(const std::filesystem::path&, const std::function<void(int)>&)> make_practice_film;
    std::unique_ptr<Practice> practice; ///< its film while it is being made
    std::optional<Guide> guide;         ///< the first ten minutes, while they last
    GamesForm games_form;
    ListView list;
    std::optional<ListPage> list_page;
    std::vector<ShotFact> facts;         ///< of the season, for the Season and Study sides
    std::vector<AnsweredMoment> answers; ///< of the season
    StudyFilter study_filter;
    std::optional<StudyTurn> study;       ///< the decision under study; none: the queue is shown
    bool study_running = false;           ///< its run-up has begun
    Id season_goalie;                     ///< whose shots the Season side shows; empty: all
    bool season_stale = true;             ///< they read the file again
    std::vector<LogAction> actions;       ///< of this turn, from the panels
    std::optional<double> progress;       ///< share done of the work that holds the desk up
    std::function<void()> draw_meanwhile; ///< draws a turn while that work goes on
    bool leaving = false;
};

void open_season(App& app, const std::filesystem::path& path);
/// Makes the season file the form describes, with its first game, and opens it.
void create_season(App& app);
/// Makes a film to learn on and opens a season of its own around it, with the guide beside.
void begin_practice(App& app);
/// Opens what begin_practice() started once it is there. True when there is something new to draw.
bool await_practice(App& app);
void start_guide(App& app);
void open_film(App& app, const std::string& path);
void open_chosen_film(App& app);
void choose_game(App& app, std::size_t index);
void choose_film(App& app, std::size_t index);
void drop_file(App& app, const std::string& path);

/// Reads the season's facts again.
void refresh_season(App& app);

/// The season's answers, each with what came and where the puck was.
std::vector<AnsweredMoment> answered_moments(const App& app);
/// Opens the decision for study: its film runs up to the moment and stops.
void begin_study(App& app, const ShotFact& fact);
void begin_study_unanswered(App& app); ///< the first in the list that has no answer yet, else the first
void next_study(App& app);
void run_up_again(App& app);
void answer_call(App& app, Read call);
/// Keeps the answer in the season file and shows what the model says.
void answer_place(App& app, IcePoint place);
/// Lets the run-up begin and stop.
void run_study(App& app, const FrameTable& frames);

/// Moves the playhead. Called before the turn's events, so that what they start begins now and not when the
/// window fell asleep.
void pass_time(App& app, double elapsed_s);
/// Takes the panels' actions, fetches the picture. True while something is awaited.
bool update(App& app);
void run_command(App& app, Command command);
/// A page or a field is open that takes the keys.
bool sheet_is_open(const App& app);
/// A frame key held this long runs the film that way until it is let go.
constexpr double hold_to_run_s = 0.35;
void hold_step(App& app, int way);
void let_go_of_step(App& app);
void choose_number(App& app, int number);
/// The verdicts a reviewer can give, in the order of their numbers.
inline constexpr std::array reviewer_verdicts = {Verdict::right_read, Verdict::over_challenged,
                                                 Verdict::sat_back, Verdict::off_angle, Verdict::late};
/// A list of shots by its file's ending.
bool is_scorer_list(const std::string& path);
void open_list(App& app, const std::string& path);
void read_list_again(App& app);
void hold_in_column(App& app, std::size_t column, ListColumn holds);
/// 1: the first row names the columns; 2: feet or metres; 3: from the net or from the middle of the rink.
void turn_list_switch(App& app, int number);
void take_list(App& app);
void run_list_page_command(App& app, Command command);
FilmAt film_at(const App& app, const FrameTable* frames);

/// The keys of the shot list. True when it was one of them, or one that its whole page keeps from the film.
bool run_list_command(App& app, Command command);
/// Commands that move the film, the ribbon and the view of the picture. True when it was one of them.
bool run_film_command(App& app, Command command);
/// Esc, as far as it is the list's.
bool leave_list(App& app);
void choose_in_open_cell(App& app, int number);
void overrule_verdict(App& app, std::optional<Verdict> verdict);

FrameAt frame_at(const App& app);
/// The frames of the open film, once it is ready.
std::shared_ptr<const FrameTable> frames_of(const App& app);
/// A film's path as the file system wants it: relative paths start at the season file's folder.
std::string resolved_path(const App& app, const std::string& path);

/// Draws one turn of the whole desk.
void draw_desk(App& app, float width, float height);

} // namespace ropeline
