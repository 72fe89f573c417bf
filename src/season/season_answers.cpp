// What goalies answered in the study exercise.
#include "season/season_insides.h"

namespace ropeline {

namespace {

Value flag_or_null(const std::optional<bool>& flag) {
    return flag ? Value{std::int64_t{*flag}} : Value{};
}

} // namespace

void SeasonFile::put(Answer& record) {
    const Id id = record.id.empty() ? new_id() : record.id;
    std::optional<double> advised_from_m = record.advised_from_m, advised_to_m = record.advised_to_m;
    std::optional<Verdict> verdict = record.verdict;
    change("answer", [&] {
        auto said =
            ask(*insides_->db, "SELECT advised_from_m, advised_to_m, verdict FROM moment WHERE id = ?",
                {record.moment_id});
        if (const Row row{said}; said.executeStep()) {
            if (!advised_from_m) {
                advised_from_m = row.optional_real("advised_from_m");
                advised_to_m = row.optional_real("advised_to_m");
            }
            if (!verdict) verdict = row.optional_word<Verdict>("verdict");
        }
        upsert(*insides_->db, "answer",
               {{"id", id},
                {"moment_id", record.moment_id},
                {"goalie_id", id_or_null(record.goalie_id)},
                {"answered_by", record.answered_by},
                {"answered_at", record.answered_at},
                {"read", key_or_null(record.read)},
                {"ice_x_m", record.ice ? Value{record.ice->x_m} : Value{}},
                {"ice_y_m", record.ice ? Value{record.ice->y_m} : Value{}},
                {"took_s", value_or_null(record.took_s)},
                {"advised_from_m", value_or_null(advised_from_m)},
                {"advised_to_m", value_or_null(advised_to_m)},
                {"verdict", key_or_null(verdict)},
                {"sure", key_or_null(record.sure)},
                {"call_right", flag_or_null(record.call_right)},
                {"gave_away", value_or_null(record.gave_away)},
                {"place_right", flag_or_null(record.place_right)},
                {"due_on", record.due_on.empty() ? Value{} : Value{record.due_on}}});
    });
    record.id = id;
    record.advised_from_m = advised_from_m;
    record.advised_to_m = advised_to_m;
    record.verdict = verdict;
}

void SeasonFile::remove_answer(const Id& id) {
    change("answer taken back", [&] { ask(*insides_->db, "DELETE FROM answer WHERE id = ?", {id}).exec(); });
}

std::vector<Answer> SeasonFile::answers() const {
    return insides_->read([](SQLite::Database& db) {
        std::vector<Answer> answers;
        auto found = ask(db, "SELECT * FROM answer ORDER BY answered_at, id");
        const Row row{found};
        while (found.executeStep()) {
            Answer answer;
            answer.id = row.text("id");
            answer.moment_id = row.text("moment_id");
            answer.goalie_id = row.text("goalie_id");
            answer.answered_by = row.text("answered_by");
            answer.answered_at = row.text("answered_at");
            answer.read = row.optional_word<Read>("read");
            if (!row.is_null("ice_x_m")) answer.ice = IcePoint{row.real("ice_x_m"), row.real("ice_y_m")};
            answer.took_s = row.optional_real("took_s");
            answer.advised_from_m = row.optional_real("advised_from_m");
            answer.advised_to_m = row.optional_real("advised_to_m");
            answer.verdict = row.optional_word<Verdict>("verdict");
            answer.sure = row.optional_word<Sureness>("sure");
            answer.call_right = row.optional_flag("call_right");
            answer.gave_away = row.optional_real("gave_away");
            answer.place_right = row.optional_flag("place_right");
            answer.due_on = row.text("due_on");
            answers.push_back(std::move(answer));
        }
        return answers;
    });
}

} // namespace ropeline
