// The films of the game: which one is on screen, where it goes, what the season keeps of it.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const ChooseFilm& choose);
void handle(LogContext& log, const KeepFilm& film);
void handle(LogContext& log, const KeepFilmMarks& found);
void handle(LogContext& log, const ShowFilm& show);
void handle(LogContext& log, const ShowFilmBy& by);

void turn_to_film(LogContext& log, const Id& film_id); ///< empty: none
/// Goes to a frame of any film of the game.
void show_frame(LogContext& log, const Id& film_id, std::int64_t frame);

} // namespace ropeline
