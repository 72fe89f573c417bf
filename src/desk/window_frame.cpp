#include "desk/window_frame.h"

#include "desk/state/icon.h"
#include "desk/state/window_title.h"

#include <SDL.h>

#include <memory>

namespace ropeline {

namespace {

struct FreeSurface {
    void operator()(SDL_Surface* owned) const { SDL_FreeSurface(owned); }
};

bool is_full_screen(SDL_Window* window) {
    return (SDL_GetWindowFlags(window) & SDL_WINDOW_FULLSCREEN_DESKTOP) != 0;
}

/// Enough of the title bar is on some display to take hold of it.
bool can_be_seen(const WindowPlace& at) {
    for (int display = 0; display < SDL_GetNumVideoDisplays(); ++display) {
        SDL_Rect room{};
        if (SDL_GetDisplayUsableBounds(display, &room) != 0) continue;
        constexpr int hold_px = 100;
        if (at.x > room.x - hold_px && at.x < room.x + room.w - hold_px && at.y >= room.y - hold_px &&
            at.y < room.y + room.h - hold_px)
            return true;
    }
    return false;
}

} // namespace

void put_icon(SDL_Window* window) {
    constexpr int size_px = 128;
    std::vector<std::uint8_t> rgba = icon_rgba(size_px);
    const std::unique_ptr<SDL_Surface, FreeSurface> icon{SDL_CreateRGBSurfaceWithFormatFrom(
        rgba.data(), size_px, size_px, 32, 4 * size_px, SDL_PIXELFORMAT_RGBA32)};
    if (icon) SDL_SetWindowIcon(window, icon.get());
}

void place_window(SDL_Window* window, const Settings& settings) {
    if (settings.window_at && can_be_seen(*settings.window_at))
        SDL_SetWindowPosition(window, settings.window_at->x, settings.window_at->y);
    if (settings.maximized) SDL_MaximizeWindow(window);
}

void update_window_frame(SDL_Window* window, const App& app, std::string& shown) {
    const std::string title = window_title(app.log.book ? &app.log.state() : nullptr);
    if (title != shown) SDL_SetWindowTitle(window, title.c_str());
    shown = title;
    if (app.settings.full_screen != is_full_screen(window))
        SDL_SetWindowFullscreen(window,
                                app.settings.full_screen ? Uint32{SDL_WINDOW_FULLSCREEN_DESKTOP} : 0U);
}

void note_window(SDL_Window* window, Settings& settings) {
    if (is_full_screen(window)) return;
    settings.maximized = (SDL_GetWindowFlags(window) & SDL_WINDOW_MAXIMIZED) != 0;
    if (settings.maximized) return;
    SDL_GetWindowSize(window, &settings.window_width, &settings.window_height);
    // The place is that of what lies inside the frame, while it is set as that of the frame.
    int x = 0, y = 0, top = 0, left = 0;
    SDL_GetWindowPosition(window, &x, &y);
    SDL_GetWindowBordersSize(window, &top, &left, nullptr, nullptr);
    settings.window_at = {x - left, y - top};
}

} // namespace ropeline
