#include "desk/carry_out.h"

#include "desk/commands.h"

#include <utility>

namespace ropeline {

namespace {

/// What the log book did with what was typed decides whether its field is emptied.
void empty_fields(App& app, const LogAction& action) {
    if (app.log.state().notice.trouble) return;
    GamesForm& form = app.pages.games_form;
    if (std::holds_alternative<NewGame>(action)) {
        form.home.clear();
        form.away.clear();
    } else if (std::holds_alternative<NewGoalie>(action)) {
        form.goalie.clear();
    } else if (app.pages.clock.sent &&
               (std::holds_alternative<SetClock>(action) || std::holds_alternative<GoToClock>(action))) {
        app.pages.clock.field = ClockField::closed;
    }
}

void change_log(App& app, const LogAction& action) {
    LogPart& log = app.log;
    const auto open = [&log] {
        const Selection& selection = log.state().selection;
        return std::pair{selection.game_id(), selection.film_id()};
    };
    const auto opened_before = open();
    const Moment* before = moment_in_hand(log.state());
    const Id was_in_hand = before ? before->id : Id{};
    log.book->report_progress([&app](double share) {
        app.log.progress = share;
        if (app.draw_meanwhile) app.draw_meanwhile();
    });
    log.book->apply(action, frame_at(app.stage));
    log.progress.reset();
    if (open() != opened_before) open_chosen_film(app);
    const Moment* after = moment_in_hand(log.state());
    if (!after || after->id != was_in_hand) log.tried.reset();
    app.season.stale = true;
    empty_fields(app, action);
    app.pages.clock.sent = false;
}

/// On the team of who is in net, who stays there.
void add_goalie_of_list(App& app, const std::string& name) {
    const LogState& log = app.log.state();
    const Id in_net = log.goalie_id;
    const Goalie* now = goalie_of(log, in_net);
    if (!now) return;
    change_log(app, NewGoalie{name, team_name(log, now->team_id)});
    const Notice notice = log.notice;
    change_log(app, PutInNet{in_net});
    if (notice.trouble) tell(app, notice.text, true);
}

struct CarryOut {
    App& app;

    void operator()(const LogAction& action) const {
        if (app.log.book) change_log(app, action);
    }
    void operator()(const Press& press) const { run_command(app, press.command); }
    void operator()(const Tell& said) const { tell(app, said.text, said.trouble); }
    void operator()(const OpenFile& file) const {
        const std::string path = spelled_out(file.path).string();
        if (is_scorer_list(path)) {
            open_list(app, resolved_path(app, path));
        } else {
            open_film(app, path);
        }
    }
    void operator()(const MakeSeason&) const { ask_for_season(app); }
    void operator()(const MakeOwn&) const { make_own_season(app); }
    void operator()(const OpenRecent& open) const { open_recent(app, open.index); }
    void operator()(const ChooseFile& choose) const { show_chooser(app, choose.what); }
    void operator()(const AskToMove& move) const { ask_to_move(app, move.shot_id, move.to); }
    void operator()(const Number& pressed) const { choose_number(app, pressed.number); }
    void operator()(const EnterChoice&) const { take_entered(app); }
    void operator()(const AskSystem&) const { ask_system(app); }
    void operator()(const MakePractice&) const { begin_practice(app); }
    void operator()(const StudyMoment& study) const { begin_round(app, study.moment_id); }
    void operator()(const CallRead& call) const { answer_call(app, call.call); }
    void operator()(const CallSure& call) const { answer_sure(app, call.sure); }
    void operator()(const CallPlace& call) const { answer_place(app, call.place); }
    void operator()(const LeaveStudy&) const { leave_study(app); }
    void operator()(const ShowSitting&) const { show_sitting(app); }
    void operator()(const SayWhoAnswers& said) const { say_who_answers(app, said.name); }
    void operator()(const StopFilmBefore& stop) const {
        app.settings.stops_before_s = stop.seconds;
        save_settings(settings_path(), app.settings);
    }
    void operator()(const AskHowSure& ask) const {
        app.settings.ask_how_sure = ask.ask;
        save_settings(settings_path(), app.settings);
    }
    void operator()(const MakeExport& make) const { begin_export(app, make.kind); }
    void operator()(const HandoutFor& handout) const { choose_handout_goalie(app, handout.goalie_id); }
    void operator()(const StopExport&) const {
        if (app.exports.work) app.exports.work->stop();
    }
    void operator()(const RecordVoice&) const { record_voice(app); }
    void operator()(const KeepVoice&) const { keep_voice(app); }
    void operator()(const DropVoice&) const { drop_voice(app); }
    void operator()(const MakeOneSeason&) const { make_one_season(app); }
    void operator()(const DecideBetween& decide) const { decide_between(app, decide.id, decide.keep); }
    void operator()(const OpenOneSeason&) const { open_one_season(app); }
    void operator()(const OpenOnFilm& open) const { open_on_film(app, open.shot_id); }
    void operator()(const ShowSeason& show) const { app.season.view = show.view; }
    void operator()(const CompareSeason& compare) const { app.season.comparison = compare.comparison; }
    void operator()(const CompareSeasonBy& compare) const { compare_by(app, compare.by); }
    void operator()(const SortGoalies& sort) const {
        app.season.order = clicked(app.season.order, sort.by);
        if (app.season.numbers) app.season.in_order = ordered(app.season.numbers->goalies, app.season.order);
    }
    void operator()(const SavePapers& save) const { save_papers(app, save.paper); }
    void operator()(const TurnListSwitch& turned) const {
        if (!app.scorer_list || turned.number > 3) return;
        turn_list_switch(*app.scorer_list, turned.number);
        read_again(*app.scorer_list, app.log.state(), frames_of(app.stage).get());
    }
    void operator()(const TellName& name) const {
        if (!app.scorer_list) return;
        if (name.goalie_id.empty()) return add_goalie_of_list(app, name.written);
        tell_name(*app.scorer_list, name.written, name.goalie_id);
        read_again(*app.scorer_list, app.log.state(), frames_of(app.stage).get());
    }
    void operator()(const HoldInColumn& held) const {
        if (!app.scorer_list) return;
        hold_in_column(*app.scorer_list, held.column, held.holds);
        read_again(*app.scorer_list, app.log.state(), frames_of(app.stage).get());
    }
};

} // namespace

void carry_out_actions(App& app) {
    const Actions actions = std::exchange(app.actions, {});
    for (const DeskAction& action : actions)
        std::visit(CarryOut{app}, action);
}

} // namespace ropeline
