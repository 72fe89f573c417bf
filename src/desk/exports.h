// Reel, still and handout made from the desk: on a thread of its own, with progress, time left and a way to stop it.
#pragma once

#include "depth/reason.h"
#include "handout/handout.h"
#include "reel/reel.h"
#include "reel/still.h"

#include <atomic>
#include <filesystem>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace ropeline {

enum class ExportKind { reel, still, handout };

/// All that is wanted; the thread reads the season through a connection of its own.
struct ExportWish {
    ExportKind kind{};
    std::filesystem::path season, to;
    std::vector<Id> shots; ///< in this order; of a still the one it shows
    Id moment_id;          ///< of a still
    Id goalie_id;          ///< of a handout
    ReelOptions reel;
    HandoutOptions handout;
    StillOptions still;
    LengthUnit unit = LengthUnit::metres;
    bool replaces = false; ///< a reel that was made a moment ago: it gets a voice
};

class Export {
public:
    explicit Export(ExportWish wish);
    ~Export(); ///< stops it; nothing half made stays behind
    Export(const Export&) = delete;
    Export& operator=(const Export&) = delete;

    const ExportWish& wish() const { return wish_; }
    double share() const { return share_; } ///< 0..1
    double seconds_left() const { return seconds_left_; }
    void stop() { stopped_ = true; }
    bool stopping() const { return stopped_; }
    bool finished() const { return finished_; }
    // Once it is finished:
    std::string words() const; ///< one line: what was made, or why nothing was
    bool trouble() const { return trouble_; }
    bool on_clipboard() const { return on_clipboard_; } ///< a still, as a picture

private:
    void run();
    std::string make();
    std::string make_still(const ShownPlay& play);

    const ExportWish wish_;
    std::atomic<double> share_{0.0}, seconds_left_{0.0};
    std::atomic<bool> stopped_{false}, finished_{false}, trouble_{false}, on_clipboard_{false};
    mutable std::mutex mutex_;
    std::string words_;  // guarded
    std::thread thread_; // last: it uses the others
};

/// Where it goes unless the coach says otherwise: beside the season, of a name that nothing there has.
std::filesystem::path suggested_export_path(const std::filesystem::path& season, ExportKind kind,
                                            const std::string& about);

} // namespace ropeline
