#include "desk/state/log_book.h"

#include "desk/state/changes/answers.h"
#include "desk/state/changes/card_lines.h"
#include "desk/state/changes/clock.h"
#include "desk/state/changes/figures.h"
#include "desk/state/changes/films.h"
#include "desk/state/changes/fitting.h"
#include "desk/state/changes/games.h"
#include "desk/state/changes/logged.h"
#include "desk/state/changes/marks.h"
#include "desk/state/changes/moments.h"
#include "desk/state/changes/nets.h"
#include "desk/state/changes/placing.h"
#include "desk/state/changes/shots.h"
#include "desk/state/changes/undo.h"
#include "desk/state/keys.h"
#include "desk/state/reload.h"

#include <algorithm>
#include <new>

namespace ropeline {

namespace {

std::string in_a_line(std::string text) {
    std::ranges::replace(text, '\n', ' ');
    return text;
}

/// What stands in the file, with what is open left open. The records of before are not copied: they may be half
/// changed, and many.
LogState read_again(const SeasonFile& file, const LogState& before) {
    LogState fresh;
    fresh.revision = before.revision;
    fresh.selection = before.selection;
    fresh.goalie_id = before.goalie_id;
    fresh.list = before.list;
    fresh.field = before.field;
    fresh.left_at = before.left_at;
    reload(file, fresh);
    return fresh;
}

} // namespace

LogBook::LogBook(SeasonFile season) : file_(std::move(season)) {
    reload(file_, state_);
    LogContext log{file_, state_, {}, progress_};
    if (!state_.games.empty()) handle(log, ChooseGame{state_.games.size() - 1});
}

void LogBook::tell(std::string_view text, bool trouble) {
    state_.notice = {with_keys(text), trouble};
}

bool LogBook::guarded(const std::function<void()>& body) {
    std::string trouble;
    try {
        body();
        return false;
    } catch (const SeasonError& error) {
        trouble = in_a_line(error.what());
    } catch (const std::bad_alloc&) {
        trouble = "The memory ran out. Close other programs, then do again what is not there.";
    } catch (const std::exception& error) {
        trouble = in_a_line(std::string{"That went wrong; do again what is not there: "} + error.what());
    }
    try {
        state_ = read_again(file_, state_);
    } catch (const std::exception&) {
        // A drive pulled out cannot be read either: what is known stays in view.
    }
    ++state_.revision;
    state_.notice = {std::move(trouble), true};
    return true;
}

bool LogBook::start_commit() {
    return guarded([&] { file_.start_commit(); });
}

bool LogBook::wait_for_commit() {
    return guarded([&] { file_.wait_for_commit(); });
}

void LogBook::apply(const LogAction& action, const FrameAt& at) {
    if (applying_) return;
    applying_ = true;
    guarded([&] {
        if (chosen_film(state_) && at.image.width_px > 0) state_.left_at[open_film(state_)] = at.frame;
        LogContext log{file_, state_, at, progress_};
        std::visit([&](const auto& one) { handle(log, one); }, action);
    });
    applying_ = false;
    ++state_.revision;
}

} // namespace ropeline
