#include "desk/pages.h"

namespace ropeline {

bool any_open(const Pages& pages) {
    return pages.games || pages.parameters || pages.what_we_log || pages.key_sheet || pages.card.note_open ||
           pages.overrule.open || pages.clock.field != ClockField::closed;
}

void close_all(Pages& pages) {
    pages.key_sheet = pages.games = pages.parameters = pages.what_we_log = pages.card.note_open =
        pages.overrule.open = false;
    pages.clock.field = ClockField::closed;
}

} // namespace ropeline
