// The Study side: the queue of decisions that were not right; one of them as the film shows it, called by the
// goalie before the answer is seen.
#include "desk/panels/ui.h"

#include "desk/state/study.h"
#include "tally/proportion.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

std::string goalie_name(const App& app, const Id& id) {
    const Goalie* goalie = goalie_of(app.book->state(), id);
    return goalie ? goalie->name : "every goalie";
}

void draw_filters(App& app, float right) {
    const LogState& log = app.book->state();
    StudyFilter& filter = app.study_filter;
    for (int index = 0; index < study_whats; ++index) {
        const auto what = static_cast<StudyWhat>(index);
        const std::string key = std::to_string(index + 1);
        if (index > 0) wrap_chip(app, key, label_of(what), right);
        ImGui::PushID(index);
        if (chip(app, "what", key, label_of(what), filter.what == what, false)) filter.what = what;
        ImGui::PopID();
    }
    ImGui::SameLine(0.0F, 1.5F * app.look.unit);
    ImGui::SetNextItemWidth(12.0F * app.look.unit);
    if (ImGui::BeginCombo("##goalie", goalie_name(app, filter.goalie_id).c_str())) {
        if (ImGui::Selectable("every goalie", filter.goalie_id.empty())) filter.goalie_id.clear();
        for (const Goalie& goalie : log.goalies) {
            const std::string label = fmt::format("{}##{}", goalie.name, goalie.id);
            if (ImGui::Selectable(label.c_str(), goalie.id == filter.goalie_id)) filter.goalie_id = goalie.id;
        }
        ImGui::EndCombo();
    }
    ImGui::SameLine(0.0F, 0.6F * app.look.unit);
    const auto game = std::ranges::find(log.games, filter.game_id, &Game::id);
    ImGui::SetNextItemWidth(12.0F * app.look.unit);
    if (ImGui::BeginCombo("##game", game == log.games.end() ? "every game" : game->date.c_str())) {
        if (ImGui::Selectable("every game", filter.game_id.empty())) filter.game_id.clear();
        for (const Game& one : log.games) {
            const std::string label =
                fmt::format("{}  {} – {}##{}", one.date, team_name(log, one.home_team_id),
                            team_name(log, one.away_team_id), one.id);
            if (ImGui::Selectable(label.c_str(), one.id == filter.game_id)) filter.game_id = one.id;
        }
        ImGui::EndCombo();
    }
}

std::string share_words(const StudySum::Count& count) {
    if (count.of == 0) return "none yet";
    const Interval sure = wilson(count.right, count.of);
    return fmt::format("{} of {} right ({:.0f} to {:.0f} %)", count.right, count.of, 100.0 * sure.low,
                       100.0 * sure.high);
}

void draw_sum(App& app) {
    if (app.answers.empty()) {
        quiet_text(app,
                   with_keys("No answers yet: click a decision below, or press [take_shot]; the film stops, "
                             "the goalie calls it."));
        return;
    }
    const StudySum sum = sum_of(app.answers, app.book->state().season.parameters.depth_tolerance_m);
    quiet_text(app, fmt::format("Answers so far, with 95 % intervals: calls {}, places {}.",
                                share_words(sum.calls), share_words(sum.places)));
}

template <class Value>
void word_cell(const App& app, const std::optional<Value>& value) {
    ImGui::TableNextColumn();
    if (value) {
        ImGui::TextUnformatted(label_of(*value).data());
    } else {
        quiet_text(app, "–");
    }
}

void draw_queue(App& app, const std::vector<ShotFact>& queue) {
    const Look& look = app.look;
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit;
    if (queue.empty() || !ImGui::BeginTable("queue", 9, flags)) return;
    ImGui::TableSetupScrollFreeze(0, 1);
    for (const char* title :
         {"game", "goalie", "situation", "goalie read", "what came", "verdict", "depth", "answered"}) {
        ImGui::TableSetupColumn(title);
    }
    ImGui::TableSetupColumn("note", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableHeadersRow();
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(queue.size()));
    while (clipper.Step()) {
        for (int row = clipper.DisplayStart; row < clipper.DisplayEnd; ++row) {
            const ShotFact& fact = queue[static_cast<std::size_t>(row)];
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            const std::string label =
                fmt::format("{}  {} – {}##{}", fact.game_date, fact.home_team, fact.away_team, fact.shot_id);
            if (ImGui::Selectable(label.c_str(), false, ImGuiSelectableFlags_SpanAllColumns))
                begin_study(app, fact);
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(fact.goalie.c_str());
            word_cell(app, fact.situation);
            word_cell(app, fact.read);
            word_cell(app, fact.came);
            word_cell(app, studied_verdict(fact));
            ImGui::TableNextColumn();
            const auto depth = studied_depth_m(fact);
            ImGui::TextUnformatted(depth ? metres(*depth).c_str() : "–");
            ImGui::TableNextColumn();
            const auto answers = std::ranges::count_if(app.answers, [&](const AnsweredMoment& one) {
                return one.answer.moment_id == studied_moment(fact);
            });
            quiet_text(app, answers == 0 ? "–" : std::to_string(answers));
            ImGui::TableNextColumn();
            const ImVec2 at = ImGui::GetCursorScreenPos();
            draw_outcome(ImGui::GetWindowDrawList(), {at.x + 0.4F * look.unit, at.y + 0.55F * look.unit},
                         0.75F * look.unit, fact.outcome, look.colours);
            ImGui::Dummy({look.unit, look.unit});
            ImGui::SameLine();
            ImGui::TextUnformatted(fact.note.c_str());
        }
    }
    ImGui::EndTable();
}

void draw_call(App& app) {
    const StudyTurn& turn = *app.study;
    const Look& look = app.look;
    text_in(look.heading, look.colours.text, "Your call");
    wrapped_text(app, "What comes next?", look.colours.quiet);
    ImGui::Spacing();
    const bool calling = turn.phase == StudyPhase::call;
    if (chip(app, "shot", "1", "shot", turn.call == Read::shot, calling)) answer_call(app, Read::shot);
    ImGui::SameLine(0.0F, 0.5F * look.unit);
    if (chip(app, "pass", "2", "pass", turn.call == Read::pass, calling)) answer_call(app, Read::pass);
    ImGui::Spacing();
    switch (turn.phase) {
    case StudyPhase::run_up:
        wrapped_text(app, "The film runs up to the moment and stops.", look.colours.quiet);
        break;
    case StudyPhase::call:
        wrapped_text(app, "Call it first: 1 or 2. Space shows the run-up again.", look.colours.rope);
        break;
    case StudyPhase::place:
        wrapped_text(app, "Now click on the plan where you want to stand.", look.colours.rope);
        break;
    case StudyPhase::answer:
        break;
    }
}

void draw_answer(App& app) {
    const StudyTurn& turn = *app.study;
    const Look& look = app.look;
    const Palette& c = look.colours;
    const ShotEntry* entry = chosen_shot(app.book->state());
    const auto view = judged_in_hand(app);
    if (!entry || !view) return;
    const auto came = entry->shot.came;
    if (const auto right = right_call(turn.call, came)) {
        text_in(look.strong, *right ? c.save : c.trouble,
                fmt::format("{}: a {} came.", *right ? "Right call" : "Wrong call", label_of(*came)));
    } else {
        quiet_text(app, "Neither a shot nor a pass came, so the call is not counted.");
    }
    if (turn.place) {
        const double depth = depth_m(*turn.place, view->asked.moment.puck);
        const double error = depth - view->decision.advice.depth_m;
        const double tolerance = app.book->state().season.parameters.depth_tolerance_m;
        const bool right = std::abs(error) <= tolerance;
        text_in(look.strong, right ? c.save : c.trouble,
                fmt::format(
                    "You: {:.2f} m out, {}", depth,
                    right ? "right"
                          : fmt::format("{:.2f} m too {}", std::abs(error), error > 0.0 ? "far" : "deep")));
    }
    wrapped_text(app, view->advice, c.text);
    ImGui::Spacing();
    quiet_text(app, "What was played");
    wrapped_text(app, view->reason, c.text);
    ImGui::Spacing();
    if (word_button(app, "Next", true)) next_study(app);
    ImGui::SameLine();
    if (word_button(app, "Back to the list")) app.study.reset();
    ImGui::SameLine();
    quiet_text(app, with_keys("[take_shot], [put_down]"));
}

void draw_turn(App& app, const Rect& page) {
    const Look& look = app.look;
    LogLayout at = log_layout(page.width, page.y + page.height, look.unit);
    const bool answered = app.study->phase == StudyPhase::answer;
    if (!answered) at.film.height += at.decision.height;
    draw_film_view(app, at.film);
    if (answered) draw_decision(app, at.decision);
    draw_ribbon(app, at.ribbon);
    const float card_height = std::min(21.0F * look.unit, 0.5F * page.height);
    const Rect card{at.card.x, page.y, at.card.width, card_height};
    begin_panel("study card", card, look.colours.panel);
    draw_call(app);
    if (answered) draw_answer(app);
    ImGui::End();
    draw_study_plan(app, {card.x, page.y + card_height + 0.5F * look.unit, card.width,
                          page.height - card_height - 2.5F * look.unit});
    draw_key_strip(app, at.keys);
}

} // namespace

void draw_study_side(App& app, const Rect& place) {
    if (app.season_stale) refresh_season(app);
    if (app.study) return draw_turn(app, place);
    const Look& look = app.look;
    const float guide_height = app.guide ? std::min(12.0F * look.unit, 0.4F * place.height) : 0.0F;
    begin_panel("study", {place.x, place.y, place.width, place.height - guide_height}, look.colours.panel);
    const std::vector<ShotFact> queue = study_queue(app.facts, app.study_filter);
    text_in(look.heading, look.colours.text, "Study");
    ImGui::SameLine(0.0F, look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    quiet_text(app, fmt::format("{} of {} logged decisions", queue.size(), app.facts.size()));
    draw_filters(app, place.x + place.width);
    draw_sum(app);
    ImGui::Spacing();
    if (queue.empty()) {
        wrapped_text(app,
                     app.facts.empty() ? "Nothing here yet: log a shot first; reads and what came are set on "
                                         "its card."
                     : app.study_filter.what == StudyWhat::all
                         ? "No decision of this goalie in this game is logged."
                         : "No logged decision is of this kind. Press 3 for every one.",
                     look.colours.quiet);
    }
    draw_queue(app, queue);
    ImGui::End();
    if (app.guide)
        draw_guide(app, {place.x, place.y + place.height - guide_height, place.width, guide_height});
}

} // namespace ropeline
