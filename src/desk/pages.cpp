#include "desk/pages.h"

namespace ropeline {

bool any_open(const Pages& pages) {
    return pages.start || pages.moving || pages.games || pages.parameters || pages.what_we_log ||
           pages.key_sheet || pages.card.note_open || pages.overrule.open ||
           pages.clock.field != ClockField::closed;
}

bool number_chooses(const OverruleForm& form) {
    return form.open && (form.written || form.reason.find_first_not_of(' ') == std::string::npos);
}

void close_all(Pages& pages) {
    pages.key_sheet = pages.start = pages.games = pages.parameters = pages.what_we_log =
        pages.card.note_open = pages.overrule.open = false;
    pages.moving.reset();
    pages.clock.field = ClockField::closed;
}

void close_log_fields(Pages& pages) {
    pages.overrule.open = false;
    pages.clock.field = ClockField::closed;
}

} // namespace ropeline
