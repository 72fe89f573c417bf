// What the commands of state/command_rows.inc do, and where the keys go.
#pragma once

#include "desk/app.h"

namespace ropeline {

/// Where the keys go now.
Place place_of_keys(const App& app);
/// What the row of the command says, when it is valid here.
void run_command(App& app, Command command);
/// A number key: it chooses on the card, in the open cell, of the verdicts ...
void choose_number(App& app, int number);
bool numbers_choose(const App& app); ///< nothing stands over what they choose from
/// A frame key goes down: held long enough, it runs the film that way.
void hold_step(App& app, int way);

// For the log: log_commands.cpp
void ask(App& app, LogAction action);
void ask_and_hold(App& app, LogAction action); ///< and the film stands
void focus_on(App& app, int steps);            ///< to another line of the card
void keep_tried(App& app);
void lay_on_paint(App& app);
void open_clock(App& app, ClockField field);
void open_note(App& app);
void open_overrule(App& app);
void remove_in_hand(App& app);
void shot_or_reading_on(App& app, int steps); ///< the next shot; what the column of a scorer's list holds
void unfold(App& app);                        ///< the whole card and every figure, or the crease again
void take_in(App& app);                       ///< Enter: shot, fit, list, answer or season is done

// For the film: film_commands.cpp
void frame_or_column_on(App& app, int way);
void loop_around_shot(App& app);
void magnify_at_cursor(FilmStage& stage);
void film_to_end(FilmStage& stage, int way); ///< its first frame, or its last
void move_film(FilmStage& stage, double seconds);
void run_film(FilmStage& stage, int way);
void run_film_or_run_up(App& app);
void show_next_film(App& app);
void show_whole_picture(FilmStage& stage);
void slow_film(FilmStage& stage);
void speed_film(FilmStage& stage);
void go_to_chance(App& app, int way); ///< the next likely one, or the one before
void step_film(FilmStage& stage, int frames);
void turn_following(FilmStage& stage);
void zoom_ribbon(FilmStage& stage, double factor);

// For the shot list: list_commands.cpp
void find_shots(App& app);
void open_goalie_choices(App& app);
void put_on_film(App& app);
/// A shot to another frame: moving.cpp. Asks first when marks would be left behind.
void ask_to_move(App& app, const Id& shot_id, const FrameAt& to);
void move_as_asked(App& app);
void sort_by_next_column(App& app);
void sort_other_way(App& app);
void turn_whole_list(App& app);
/// Esc, as far as it is the list's.
bool leave_list(App& app);

// For the desk: desk_commands.cpp
void put_down(App& app);
void set_text_size(App& app, float factor);
void show_side(App& app, Side side);
void turn(bool& on);
void undo_here(App& app); ///< the log's; in Study an answer
void redo_here(App& app);
void turn_exports(App& app); ///< the page of reel, still and handout
void turn_games_page(App& app);
void turn_guide(App& app);
void turn_light(App& app);
void turn_motion(App& app);  ///< whether the picture moves in on a play or jumps
void turn_lengths(App& app); ///< the next of metres, feet, skate lengths
void turn_start_page(App& app);
void turn_parameters_page(App& app);
void turn_what_we_log(App& app);

} // namespace ropeline
