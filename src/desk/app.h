// The desk as a whole: its parts, and what concerns more than one of them. Only what keys, dropped files and the turn
// of the window do needs all of it; a panel gets the parts that it shows.
#pragma once

#include "desk/actions.h"
#include "desk/chooser_desk.h"
#include "desk/export_part.h"
#include "desk/film_stage.h"
#include "desk/list_part.h"
#include "desk/log_part.h"
#include "desk/look.h"
#include "desk/pages.h"
#include "desk/scorer_list.h"
#include "desk/season_part.h"
#include "desk/side.h"
#include "desk/start_page.h"
#include "desk/state/guide.h"
#include "desk/state/settings.h"
#include "desk/study_part.h"
#include "desk/unite_part.h"

#include <exception>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

namespace ropeline {

struct App {
    Look look;
    Settings settings;
    Letters letters;                              ///< beyond the usual ones, of all that was read or typed
    std::optional<std::uint64_t> letters_read_at; ///< the log's revision then
    Side side = Side::log;
    LogPart log;
    FilmStage stage;
    SeasonPart season;
    StudyPart study;
    ListPart list;
    ExportPart exports;
    UnitePart unite;
    std::optional<ScorerList> scorer_list;
    Pages pages;
    StartPage start;
    std::optional<ChooserDesk> chooser;   ///< while a file is chosen
    std::optional<Guide> guide;           ///< the first ten minutes, while they last
    Actions actions;                      ///< of this turn, from panels and keys
    std::function<void()> draw_meanwhile; ///< draws a turn while work holds the desk up
    bool leaving = false;
};

// Opening: season_files.cpp
/// Throws  SeasonError; then what was open is open still.
void open_season(App& app, const std::filesystem::path& path);
/// Makes the season file that the form describes, with its first game, and opens it.
/// Out     what went wrong; empty when nothing did
std::string create_season(App& app, const NewSeasonForm& form);
/// Notes where the open season stands, so that it opens there again.
void note_where_left(App& app);
/// Opens the season of the last run, unless that run did not get as far as showing it.
void open_last_season(App& app);
/// The season and its film are there, or their trouble is told: the next start may open it again.
void note_opened_well(App& app);

// Films and dropped files: opening.cpp
void open_film(App& app, const std::string& path);
void open_chosen_film(App& app);
void drop_file(App& app, const std::string& path);
void open_list(App& app, const std::string& path);
/// A film's path as the file system wants it: relative paths start at the season file's folder.
std::string resolved_path(const App& app, const std::string& path);

// The start page: starting.cpp
void show_start_page(App& app);
void make_own_season(App& app); ///< the same, with the form in hand
bool start_page_shown(const App& app);
bool is_practice(const App& app); ///< the open season is the one to learn on
void open_recent(App& app, std::size_t index);
/// Looks whether the season of the form can be made, on a thread; watch_start_page() then makes it.
void ask_for_season(App& app);
/// True while something is awaited, or there is news to draw.
bool watch_start_page(App& app);

// The chooser of files: choosing.cpp
void show_chooser(App& app, ChooserFor what);
void ask_system(App& app);   ///< shows the system's own window instead
void take_entered(App& app); ///< Enter in it
/// True as for watch_start_page().
bool watch_chooser(App& app);

// Practice: practice.cpp
/// Makes a film to learn on and opens a season of its own around it, with the guide beside.
void begin_practice(App& app);
/// Opens what begin_practice() started once it is there. True when there is something new to draw.
bool await_practice(App& app);
void start_guide(App& app);

// Study: study.cpp, study_queue.cpp
/// Opens the decision for study: its film runs up and stops. The list as it stands is asked from there on.
void begin_round(App& app, const Id& moment_id);
void begin_first(App& app);
void go_to_decision(App& app, int steps); ///< of the round; after the last one how the sitting went
void leave_study(App& app);               ///< back to the list
void show_sitting(App& app);
void say_who_answers(App& app, const std::string& name);
/// Before the call: holds the run-up, runs on, or shows it again; after it the play.
void run_or_hold_study(App& app);
void answer_call(App& app, Read call);
void answer_sure(App& app, Sureness sure);
/// Keeps the answer in the season file; the play runs on with it.
void answer_place(App& app, IcePoint place);
void undo_study(App& app); ///< takes back answers of this sitting, never what is logged
void redo_study(App& app);
void pass_study_time(App& app, double elapsed_s);
/// Lets the run-up begin and stop; nothing after the stop is shown or heard before the answer.
void run_study(App& app, const FrameTable& frames);
/// What concerns Study in every turn, with or without a film. True while it is to go on by itself.
bool watch_study(App& app);
void refresh_study(App& app, bool season_read);

// Reel, still, handout: export_commands.cpp
/// Whose handout it is; the name it has unless the coach typed one follows.
void choose_handout_goalie(App& app, const Id& goalie_id);
void begin_export(App& app, ExportKind kind);
void start_export(App& app, const ExportWish& wish);
/// Tells what was made once it is. True while something is.
bool watch_export(App& app);

// A voice over the reel that was made last: voice_commands.cpp
void record_voice(App& app);
void keep_voice(App& app); ///< beside the reel, which is made again with it
void drop_voice(App& app);
/// Lets the reel run while it listens; at its end the voice is kept. True while one is recorded.
bool watch_voice(App& app);

// Another coach's season, made into one with the open one: uniting.cpp
void bring_in_season(App& app, const std::filesystem::path& theirs); ///< its page
/// Throws  nothing that the page does not say
void make_one_season(App& app);
void decide_between(App& app, const Id& id, Keep keep); ///< no id: all that both changed
/// Throws  SeasonError
void open_one_season(App& app);
/// True while the two are laid together, and once more when they are.
bool watch_uniting(App& app);

// The Season side: season.cpp
/// Works out what it shows, on a thread, and tells of papers that were written. True while something is awaited.
bool run_season(App& app);
/// Its game, its film when it is on one, and the shot. False when one is not there.
bool open_shot(App& app, const Id& game_id, const Id& shot_id);
/// The same on the Log side.
void open_on_film(App& app, const Id& shot_id);
void compare_by(App& app, CompareBy by);
void save_papers(App& app, SeasonPaper paper);

// A turn of the window: turn.cpp
/// Moves the playhead. Called before the turn's events, so that what they start begins now and not when the
/// window fell asleep.
void pass_time(App& app, double elapsed_s);
/// Carries out the turn's actions, fetches the picture, works out what is to be drawn. True while something is
/// awaited. Whatever goes wrong in it ends as one notice.
bool update(App& app);
/// Works out, when something changed, what is drawn and would cost more than drawing it. True while some of
/// it is still to come.
/// Throws  SeasonError
bool read_for_drawing(App& app);
/// The notice of it, or the trouble on the start page.
void tell_trouble(App& app, const std::exception& error);
void tell(App& app, const std::string& text, bool trouble);

/// Draws one turn of the whole desk: panels/desk_panels.cpp
void draw_desk(App& app, float width, float height);

} // namespace ropeline
