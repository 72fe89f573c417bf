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
    turn_back(log, log.file.undo_name(), &SeasonFile::undo, "Undone: ", "Nothing to undo.");
}

void handle(LogContext& log, const Redo&) {
    turn_back(log, log.file.redo_name(), &SeasonFile::redo, "Done again: ", "Nothing to redo.");
}

} // namespace ropeline
