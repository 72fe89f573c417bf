// A sitting of Study from the list to the season file; the film of this season is away, so it is called on the plan.
#include "desk/drawn_desk.h"

#include "season/come_back.h"
#include "season/dates.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// Three shots: of one a shot comes, of one a pass, and one is overruled.
struct Sitting {
    DrawnDesk desk;
    App& app = desk.app;
    std::vector<Id> moments;
    Sitting() {
        const auto path = desk.folder.path / "one.season";
        {
            LogBook book = begun(path);
            fit_still(book, 90);
        }
        open_season(app, path);
        log(100, {0.1, 1.3}, {3.0, 7.0}, NextAction::shot);
        log(200, {0.3, 2.4}, {-5.0, 8.0}, NextAction::pass);
        log(300, {-0.8, 0.9}, {-3.0, 6.5}, NextAction::shot);
        apply(app, Overrule{Verdict::right_depth, "the puck bounced"}, 300);
        apply(app, TakeShot{}, 300);
        app.side = Side::study;
        update(app);
    }
    void log(std::int64_t frame, IcePoint goalie, IcePoint puck, NextAction came) {
        log_shot(app, frame, goalie, puck);
        // A pass came to all of them; a choice made twice would take it back.
        if (came == NextAction::shot) apply(app, ChooseIn{CardField::came, 1}, frame);
        moments.push_back(app.log.state().shots.back().moments.front().id);
    }
    void begin(const Id& moment) {
        begin_round(app, moment);
        REQUIRE(app.study.turn);
        CHECK_FALSE(app.study.turn->on_film);
        CHECK(app.study.turn->phase == StudyPhase::call);
    }
    IcePoint best_place() const {
        const Moment* moment = moment_in_hand(app.log.state());
        REQUIRE(moment);
        const IcePoint puck = *find_mark(*moment, MarkKind::puck)->ice;
        return puck * (moment->judgement->advice->best_m / length(puck));
    }
    void answer(const Id& moment, Read call, std::optional<IcePoint> place = {}) {
        begin(moment);
        answer_call(app, call);
        answer_place(app, place ? *place : best_place());
        REQUIRE(is_answered(app.study.turn));
        leave_study(app);
        update(app);
    }
    std::vector<Answer> kept() const { return app.log.book->file().answers(); }
};

} // namespace

TEST_CASE("a sitting of six calls keeps answers, who answered and when each comes back") {
    Sitting at;
    App& app = at.app;
    const std::string day = today();
    REQUIRE(app.study.decisions.size() == 3);
    CHECK(app.study.filter.without_film); // no film at all: on the plan, which is said
    begin_first(app);
    CHECK(app.log.state().notice.trouble); // nobody has said who answers
    CHECK_FALSE(app.study.turn);
    say_who_answers(app, "  Ilse Varga ");
    CHECK(load_settings(settings_path()).answers_as == "Ilse Varga");
    update(app);
    CHECK(app.study.filter.what == StudyWhat::unanswered);

    const auto undo = app.log.book->file().undo_name();
    at.answer(at.moments[0], Read::shot);                      // a shot came
    at.answer(at.moments[1], Read::pass);                      // a pass came
    at.answer(at.moments[2], Read::shot);                      // overruled
    at.answer(at.moments[0], Read::pass);                      // wrong ...
    at.answer(at.moments[0], Read::shot, IcePoint{-4.0, 1.0}); // ... and again, by the place
    at.answer(at.moments[1], Read::pass);                      // right again
    CHECK(app.log.book->file().undo_name() == undo);           // nothing of it is the log's

    const auto season = app.log.book->file().path();
    app.log.book.reset();
    const SeasonFile file = SeasonFile::open_to_read(season);
    const auto answers = file.answers();
    REQUIRE(answers.size() == 6);
    const std::vector<std::optional<bool>> calls = {true, true, true, false, true, true};
    const std::vector<std::optional<bool>> places = {true, true, true, true, false, true};
    for (std::size_t index = 0; index < answers.size(); ++index) {
        CAPTURE(index);
        CHECK(answers[index].answered_by == "Ilse Varga");
        CHECK(answers[index].call_right == calls[index]);
        CHECK(answers[index].place_right == places[index]);
        REQUIRE(answers[index].gave_away);
        const bool wrong = index == 3 || index == 4;
        CHECK(answers[index].due_on == (wrong ? days_after(day, 1) : ""));
    }
    CHECK(answers[2].verdict); // the model's; what the coach says of it stands with the moment
    CHECK(*answers[4].gave_away > file.season().parameters.worth);
}

TEST_CASE(
    "what was answered wrong yesterday is due today, opens first, and right then comes back in three days") {
    Sitting at;
    App& app = at.app;
    const std::string day = today();
    app.settings.answers_as = "Ilse Varga";
    Answer yesterday;
    yesterday.id = new_id();
    yesterday.moment_id = at.moments[1];
    yesterday.answered_by = "Ilse Varga";
    yesterday.answered_at = days_after(day, -1) + "T12:00:00Z";
    yesterday.read = Read::shot;
    apply(app, KeepAnswer{yesterday});
    REQUIRE(at.kept().at(0).due_on == day);
    app.side = Side::log;
    update(app);
    app.season.stale = true;
    app.side = Side::study;
    update(app);
    CHECK(app.study.due == 1);
    CHECK(app.study.filter.what == StudyWhat::due);
    REQUIRE(app.study.queue.decisions.size() == 1);
    at.answer(at.moments[1], Read::pass);
    CHECK(at.kept().back().due_on == days_after(day, 3));
    CHECK(app.study.due == 0);
    say_who_answers(app, "Somebody Else"); // whose progress is his own
    update(app);
    CHECK(app.study.filter.what == StudyWhat::unanswered);
    CHECK(app.study.queue.decisions.size() == 3);
    CHECK(app.study.progress.sittings.empty());
}

TEST_CASE("undo in Study takes back answers and nothing of the log; the log's takes no answer") {
    Sitting at;
    App& app = at.app;
    app.settings.answers_as = "Ilse Varga";
    update(app);
    const auto undo = app.log.book->file().undo_name();
    REQUIRE(undo);
    run_command(app, Command::undo);
    CHECK(app.log.book->file().undo_name() == undo);
    at.answer(at.moments[0], Read::shot);
    at.begin(at.moments[1]);
    answer_call(app, Read::shot);
    answer_place(app, at.best_place());
    REQUIRE(at.kept().size() == 2);
    run_command(app, Command::undo);
    CHECK(at.kept().size() == 1);
    REQUIRE(app.study.turn); // to be answered again
    CHECK(app.study.turn->phase == StudyPhase::call);
    leave_study(app);
    run_command(app, Command::redo);
    CHECK(at.kept().size() == 2);
    CHECK(at.kept().back().call_right == false);
    CHECK_FALSE(at.kept().back().due_on.empty());

    app.side = Side::log;
    const auto shots = app.log.state().shots.size();
    run_command(app, Command::undo);
    update(app);
    CHECK(at.kept().size() == 2);
    CHECK(app.log.book->file().undo_name() != undo);
    run_command(app, Command::redo);
    update(app);
    CHECK(app.log.state().shots.size() == shots);
    // A shot that is taken out and brought back has its answers still.
    apply(app, PickShot{0});
    apply(app, RemoveShot{.whole = true});
    CHECK(at.kept().size() == 1);
    apply(app, Undo{});
    CHECK(at.kept().size() == 2);
}

TEST_CASE("a handout's answers dropped on the desk come in, are told in a line, and undo in Study takes them "
          "back") {
    Sitting at;
    App& app = at.app;
    const auto path = at.desk.folder.path / "answers.json";
    std::ofstream(path)
        << R"({"ropeline_answers": 1, "answered_by": "Ilse Varga", "answers": [{"id": ")" << new_id()
        << R"(", "moment": ")" << at.moments[0]
        << R"(", "read": "pass", "ice_m": [5, 0.5], "answered_at": "2026-11-25T14:03:00Z"}]})";
    drop_file(app, path.string());
    CHECK(app.log.state().notice.text == "1 answer by Ilse Varga taken in. In Study Ctrl Z takes them back.");
    REQUIRE(at.kept().size() == 1);
    CHECK(at.kept()[0].place_right == false);
    CHECK(at.kept()[0].call_right == false);
    drop_file(app, path.string());
    CHECK(at.kept().size() == 1);
    run_command(app, Command::undo);
    CHECK(at.kept().empty());
    run_command(app, Command::redo);
    CHECK(at.kept().size() == 1);
    std::ofstream(path) << "no answers";
    drop_file(app, path.string());
    CHECK(app.log.state().notice.trouble);
    CHECK(app.log.state().notice.text == "the file is not JSON; take the one that the handout saved");
}

TEST_CASE("an older handout brings a decision back; taken back, the day is what it was") {
    Sitting at;
    App& app = at.app;
    app.settings.answers_as = "Ilse Varga";
    update(app);
    at.answer(at.moments[0], Read::shot);
    REQUIRE(at.kept().at(0).due_on.empty());
    const std::string day = today();
    const auto path = at.desk.folder.path / "answers.json";
    std::ofstream(path) << R"({"ropeline_answers": 1, "answered_by": "Ilse Varga", "answers": [{"id": ")"
                        << new_id() << R"(", "moment": ")" << at.moments[0]
                        << R"(", "read": "pass", "ice_m": [0, 1], "answered_at": ")" << days_after(day, -2)
                        << R"(T12:00:00Z"}]})";
    const auto due_days = [&] {
        std::vector<std::string> days;
        for (const Answer& one : at.kept())
            days.push_back(one.due_on);
        return days;
    };
    const std::vector<std::string> with_both = {days_after(day, -1), days_after(day, 3)};
    drop_file(app, path.string());
    CHECK(due_days() == with_both);
    run_command(app, Command::undo);
    CHECK(due_days() == std::vector<std::string>{""});
    run_command(app, Command::redo);
    CHECK(due_days() == with_both);
}

TEST_CASE("what was left open in Log takes no number key of a call") {
    Sitting at;
    App& app = at.app;
    app.settings.answers_as = "Ilse Varga";
    app.side = Side::log;
    apply(app, PickShot{0});
    run_command(app, Command::overrule);
    REQUIRE(app.pages.overrule.open);
    run_command(app, Command::side_study);
    update(app);
    at.begin(at.moments[0]);
    choose_number(app, 1);
    CHECK(app.study.turn->call == Read::shot);
    run_command(app, Command::parameters); // a page over it has the keys
    choose_number(app, 2);
    CHECK(app.study.turn->call == Read::shot);
    update(app);
    for (const ShotEntry& entry : app.log.state().shots)
        if (entry.moments.front().id == at.moments[0]) CHECK_FALSE(entry.moments.front().overruled);
}

TEST_CASE("after the last decision of the list stands how the sitting went; how sure is asked when it is "
          "switched on") {
    Sitting at;
    App& app = at.app;
    app.settings.answers_as = "Ilse Varga";
    app.settings.ask_how_sure = true;
    update(app);
    run_command(app, Command::take_shot);
    for (int decision = 0; decision < 3; ++decision) {
        REQUIRE(app.study.turn);
        choose_number(app, 1);
        CHECK(app.study.turn->phase == StudyPhase::sure);
        answer_place(app, at.best_place()); // not yet asked
        CHECK(app.study.turn->phase == StudyPhase::sure);
        choose_number(app, 3);
        answer_place(app, at.best_place());
        run_command(app, Command::take_shot);
    }
    update(app);
    CHECK_FALSE(app.study.turn);
    CHECK(app.study.sum_page);
    CHECK(app.study.progress.last.calls == RightOf{2, 3});
    CHECK(app.study.progress.last.by_sureness.at(Sureness::sure) == RightOf{2, 3});
    CHECK(app.study.progress.wrong_now.size() == 1);
    CHECK(app.study.progress.coming_back.size() == 1);
    run_command(app, Command::put_down);
    CHECK_FALSE(app.study.sum_page);
    CHECK(app.side == Side::study);
}
