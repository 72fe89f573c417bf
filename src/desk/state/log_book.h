// The season's log on the desk: its state to read, and one way to change it, which brings every change into the
// season file at once.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_state.h"
#include "season/season_file.h"

#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace ropeline {

class LogBook {
public:
    explicit LogBook(SeasonFile season);

    const LogState& state() const { return state_; }
    const SeasonFile& file() const { return file_; }

    /// Never throws: what a coach can do wrong, and what goes wrong with the season, the notice says; then what
    /// stands in the file stands in the book. An action that comes while another is carried out, from a turn drawn
    /// meanwhile, is passed over.
    void apply(const LogAction& action, const FrameAt& at);

    /// From now on a change is left to start_commit(): for a window, which must not stand still while a disk is slow.
    void commit_in_background() { file_.commit_in_background(); }
    /// Brings what was changed to the disk, in the background. True when an earlier change did not get there: the
    /// book is as before it, and the notice says why.
    bool start_commit();
    /// Waits until the disk has everything. True as in start_commit().
    bool wait_for_commit();

    std::optional<std::int64_t> take_jump() { return state_.selection.take_jump(); }
    std::optional<double> take_jump_s() { return state_.selection.take_jump_s(); }
    /// Is told the share done, 0..1, while the season is worked out again.
    void report_progress(std::function<void(double)> to) { progress_ = std::move(to); }
    /// Commands in brackets are said by their keys.
    void tell(std::string_view text, bool trouble = false);

private:
    /// True when it went wrong: that is told, and the book is read again.
    bool guarded(const std::function<void()>& body);

    SeasonFile file_;
    LogState state_;
    bool applying_ = false;
    std::function<void(double)> progress_;
};

} // namespace ropeline
