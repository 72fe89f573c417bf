#include "season/who_and_when.h"

#include "season/dates.h"
#include "season/sql.h"

namespace ropeline {

std::string when_tagged(SQLite::Database& db, const Shot& shot, const Id& id) {
    std::string stored_at, stored_by;
    auto found = ask(db, "SELECT tagged_at, tagged_by FROM shot WHERE id = ?", {id});
    if (const Row row{found}; found.executeStep()) {
        stored_at = row.text("tagged_at");
        stored_by = row.text("tagged_by");
    }
    if (!shot.tagged_at.empty() && shot.tagged_at != stored_at) return shot.tagged_at;
    return stored_by == shot.tagged_by && !stored_at.empty() ? stored_at : now_utc();
}

WhoAndWhen who_overruled(SQLite::Database& db, const Moment& moment, const Id& id) {
    if (!moment.overruled) return {};
    std::string verdict, reason;
    WhoAndWhen stored;
    auto found = ask(
        db, "SELECT overruled, overrule_reason, overruled_by, overruled_at FROM moment WHERE id = ?", {id});
    if (const Row row{found}; found.executeStep()) {
        verdict = row.text("overruled");
        reason = row.text("overrule_reason");
        stored = {row.text("overruled_by"), row.text("overruled_at")};
    }
    if (!moment.overruled_at.empty() && moment.overruled_at != stored.when)
        return {moment.overruled_by, moment.overruled_at};
    if (verdict == word_of(*moment.overruled) && reason == moment.overrule_reason && !stored.when.empty())
        return stored;
    auto reviewer = ask(db, "SELECT reviewer FROM season");
    return {reviewer.executeStep() ? reviewer.getColumn(0).getString() : std::string{}, now_utc()};
}

} // namespace ropeline
