// A picture on the system's clipboard. SDL knows only text there, so it is handed to what the system brings along:
// wl-copy under Wayland, xclip under X11.
#pragma once

#include <filesystem>

namespace ropeline {

/// Blocking, for some hundredths of a second; any thread.
/// Out     false where there is no such program, or it failed.
bool put_on_clipboard(const std::filesystem::path& png);

} // namespace ropeline
