// The window.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

namespace ropeline {

struct DeskOptions {
    std::optional<std::filesystem::path> season; ///< none: the last one, or the start page
    std::optional<std::string> film;             ///< opened in the season's newest game
    std::optional<std::filesystem::path> trace;  ///< a line a presented turn: when, how long, which frame
    /// Makes the film that a newcomer learns on in this folder, end_zone.mp4; is told the share done in per cent.
    std::function<void(const std::filesystem::path&, const std::function<void(int)>&)> make_practice_film;
};

/// Opens the desk and returns when it is closed. Throws std::runtime_error with one line when there is no
/// display or no OpenGL 3.3, SeasonError when the season asked for cannot be opened.
void run_desk(const DeskOptions& options);

} // namespace ropeline
