// The Study side: the queue of decisions that were not right; one of them as the film shows it, called by the
// goalie before the answer is seen.
#include "desk/panels/study_side.h"

#include "tally/proportion.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

std::string goalie_name(const LogState& log, const Id& id) {
    const Goalie* goalie = goalie_of(log, id);
    return goalie ? goalie->name : "every goalie";
}

void draw_kinds(const Look& look, StudyFilter& filter, float right) {
    for (int index = 0; index < study_whats; ++index) {
        const auto what = static_cast<StudyWhat>(index);
        const std::string key = std::to_string(index + 1);
        if (index > 0) wrap_chip(look, key, label_of(what), right);
        ImGui::PushID(index);
        if (chip(look, "what", key, label_of(what), filter.what == what, false)) filter.what = what;
        ImGui::PopID();
    }
}

void draw_goalie_and_game(const Look& look, const LogState& log, StudyFilter& filter) {
    ImGui::SameLine(0.0F, 1.5F * look.unit);
    ImGui::SetNextItemWidth(12.0F * look.unit);
    if (ImGui::BeginCombo("##goalie", goalie_name(log, filter.goalie_id).c_str())) {
        if (ImGui::Selectable("every goalie", filter.goalie_id.empty())) filter.goalie_id.clear();
        for (const Goalie& goalie : log.goalies) {
            const std::string label = fmt::format("{}##{}", goalie.name, goalie.id);
            if (ImGui::Selectable(label.c_str(), goalie.id == filter.goalie_id)) filter.goalie_id = goalie.id;
        }
        ImGui::EndCombo();
    }
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    const auto game = std::ranges::find(log.games, filter.game_id, &Game::id);
    ImGui::SetNextItemWidth(12.0F * look.unit);
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
    return fmt::format("{} of {} ({:.0f} to {:.0f} %)", count.right, count.of, 100.0 * sure.low,
                       100.0 * sure.high);
}

void draw_sum(const Look& look, const std::vector<AnsweredMoment>& answers, double depth_tolerance_m) {
    if (answers.empty()) {
        quiet_text(look,
                   with_keys("No answers yet: click a decision below, or press [take_shot]; the film stops, "
                             "the goalie calls it."));
        return;
    }
    const StudySum sum = sum_of(answers, depth_tolerance_m);
    quiet_text(look, fmt::format("Answers so far, with 95 % intervals: read it {}; right depth {}.",
                                 share_words(sum.calls), share_words(sum.places)));
}

template <class Value>
void word_cell(const Look& look, const std::optional<Value>& value) {
    ImGui::TableNextColumn();
    if (value) {
        ImGui::TextUnformatted(label_of(*value).data());
    } else {
        quiet_text(look, "–");
    }
}

void draw_decision_row(const Panel& panel, const ShotFact& fact,
                       const std::vector<AnsweredMoment>& all_answers) {
    const Look& look = panel.look;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const std::string label =
        fmt::format("{}  {} – {}##{}", fact.game_date, fact.home_team, fact.away_team, fact.shot_id);
    if (ImGui::Selectable(label.c_str(), false, ImGuiSelectableFlags_SpanAllColumns))
        panel.actions.push_back(StudyShot{fact.shot_id});
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(fact.goalie.c_str());
    word_cell(look, fact.situation);
    word_cell(look, fact.read);
    word_cell(look, fact.came);
    word_cell(look, studied_verdict(fact));
    ImGui::TableNextColumn();
    const auto depth = studied_depth_m(fact);
    ImGui::TextUnformatted(depth ? length_words(look, *depth).c_str() : "–");
    ImGui::TableNextColumn();
    const auto answers = std::ranges::count_if(
        all_answers, [&](const AnsweredMoment& one) { return one.answer.moment_id == studied_moment(fact); });
    quiet_text(look, answers == 0 ? "–" : std::to_string(answers));
    ImGui::TableNextColumn();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_outcome(ImGui::GetWindowDrawList(), {at.x + 0.4F * look.unit, at.y + 0.55F * look.unit},
                 0.75F * look.unit, fact.outcome, look.colours);
    ImGui::Dummy({look.unit, look.unit});
    ImGui::SameLine();
    const std::string note =
        shortened(look.body, fact.note, std::max(1.0F, ImGui::GetContentRegionAvail().x));
    ImGui::TextUnformatted(note.c_str());
    if (note != fact.note && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", fact.note.c_str());
}

void draw_queue(const Panel& panel, const std::vector<ShotFact>& queue,
                const std::vector<AnsweredMoment>& answers) {
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
        for (int row = clipper.DisplayStart; row < clipper.DisplayEnd; ++row)
            draw_decision_row(panel, queue[static_cast<std::size_t>(row)], answers);
    }
    ImGui::EndTable();
}

void draw_call(const Panel& panel, const StudyTurn& turn) {
    const Look& look = panel.look;
    text_in(look.heading, look.colours.text, "Your call");
    wrapped_text("What comes next?", look.colours.quiet);
    ImGui::Spacing();
    const bool calling = turn.phase == StudyPhase::call;
    if (chip(look, "shot", "1", "shot", turn.call == Read::shot, calling))
        panel.actions.push_back(CallRead{Read::shot});
    ImGui::SameLine(0.0F, 0.5F * look.unit);
    if (chip(look, "pass", "2", "pass", turn.call == Read::pass, calling))
        panel.actions.push_back(CallRead{Read::pass});
    ImGui::Spacing();
    switch (turn.phase) {
    case StudyPhase::run_up:
        wrapped_text("The film runs up to the moment and stops.", look.colours.quiet);
        break;
    case StudyPhase::call:
        wrapped_text("Call it first: 1 or 2. Space shows the run-up again.", look.colours.rope);
        break;
    case StudyPhase::place:
        wrapped_text("Now click on the plan where you want to stand.", look.colours.rope);
        break;
    case StudyPhase::answer:
        break;
    }
}

void draw_answer(const Panel& panel, const LogPart& part, const StudyTurn& turn) {
    const Look& look = panel.look;
    const LogState& log = part.state();
    const Palette& c = look.colours;
    const ShotEntry* entry = chosen_shot(log);
    const auto& view = part.view.judged;
    if (!entry || !view) return;
    const auto came = entry->shot.came;
    if (const auto right = right_call(turn.call, came)) {
        text_in(look.strong, *right ? c.save : c.trouble,
                fmt::format("{}: a {} came.", *right ? "Read it" : "Misread it", label_of(*came)));
    } else {
        quiet_text(look, "Neither a shot nor a pass came, so the call is not counted.");
    }
    if (turn.place) {
        const PlaceWords said = words_of_place(*turn.place, view->asked.moment, view->decision,
                                               rule_book(part.view.moment_rules), part.view.parameters);
        ImGui::PushTextWrapPos(0.0F);
        text_in(look.strong, said.right ? c.save : c.trouble, said.text);
        ImGui::PopTextWrapPos();
    }
    wrapped_text(view->advice, c.text);
    ImGui::Spacing();
    quiet_text(look, "What was played");
    ImGui::PushTextWrapPos(0.0F);
    text_in(look.strong, c.text, view->headline);
    ImGui::PopTextWrapPos();
    for (const std::string& figure : view->figures)
        wrapped_text(figure, c.quiet);
    ImGui::Spacing();
    if (word_button(look, "Next", true)) panel.actions.push_back(Press{Command::take_shot});
    ImGui::SameLine();
    if (word_button(look, "Back to the list")) panel.actions.push_back(LeaveStudy{});
    ImGui::SameLine();
    quiet_text(look, with_keys("[take_shot], [put_down]"));
}

} // namespace

void draw_study_card(const Panel& panel, const LogPart& part, const StudyTurn& turn) {
    begin_panel("study card", panel.place, panel.look.colours.panel, it_scrolls);
    draw_call(panel, turn);
    if (turn.phase == StudyPhase::answer) draw_answer(panel, part, turn);
    ImGui::End();
}

void draw_study_queue(const Panel& panel, const LogState& log, const SeasonPart& season, StudyPart& study) {
    const Look& look = panel.look;
    begin_panel("study", panel.place, look.colours.panel);
    text_in(look.heading, look.colours.text, "Study");
    ImGui::SameLine(0.0F, look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    quiet_text(look, fmt::format("{} of {} logged decisions", study.queue.size(), season.facts.size()));
    draw_kinds(look, study.filter, panel.place.x + panel.place.width);
    draw_goalie_and_game(look, log, study.filter);
    draw_sum(look, season.answers, log.season.parameters.depth_tolerance_m);
    ImGui::Spacing();
    if (study.queue.empty()) {
        wrapped_text(season.facts.empty()
                         ? "Nothing here yet: log a shot first; reads and what came are set on its card."
                     : study.filter.what == StudyWhat::all
                         ? "No decision of this goalie in this game is logged."
                         : "No logged decision is of this kind. Press 3 for every one.",
                     look.colours.quiet);
    }
    draw_queue(panel, study.queue, season.answers);
    ImGui::End();
}

} // namespace ropeline
