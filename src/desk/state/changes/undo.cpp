#include "desk/state/changes/undo.h"

#include "desk/state/reload.h"

namespace ropeline {

namespace {

void turn_back(LogContext& log, const std::optional<std::string>& name, bool (SeasonFile::*turn)(),
               const char* did, const char* none) {
    if (!name || !(log.file.*turn)()) return log.tell(none);
    log.state.selection.let_go();
    reload(log.file, log.state);
    log.tell(did + *name + ".");
}

} // namespace

void handle(LogContext& log, const Undo&) {
    if (log.state.selection.fit()) {
        log.tell(log.state.selection.step_fit_back()
                     ? "Taken back: the last click. [redo] does it again."
                     : "No click to take back: [put_down] leaves the fit as it was.");
        return;
    }
    turn_back(log, log.file.undo_name(), &SeasonFile::undo, "Undone: ", "Nothing to undo.");
}

void handle(LogContext& log, const Redo&) {
    if (log.state.selection.fit()) {
        log.tell(log.state.selection.step_fit_on() ? "Done again: the click." : "No click to do again.");
        return;
    }
    turn_back(log, log.file.redo_name(), &SeasonFile::redo, "Done again: ", "Nothing to redo.");
}

} // namespace ropeline
