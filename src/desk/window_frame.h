// What the system shows of the window beside its content: title, icon, place, full screen.
#pragma once

#include "desk/app.h"

struct SDL_Window;

namespace ropeline {

void put_icon(SDL_Window* window);
/// Back where it was left, when that place is still on a display.
void place_window(SDL_Window* window, const Settings& settings);
/// Title and full screen follow the desk; `shown` is the title it has.
void update_window_frame(SDL_Window* window, const App& app, std::string& shown);
/// Size and place, as they are outside full screen.
void note_window(SDL_Window* window, Settings& settings);

} // namespace ropeline
