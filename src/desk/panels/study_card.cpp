// One decision: the call, how sure, where to stand; then what came of it.
#include "desk/panels/study_side.h"

#include "desk/state/study_words.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <optional>

namespace ropeline {

namespace {

void draw_call(const Panel& panel, const Settings& settings, const StudyTurn& turn) {
    const Look& look = panel.look;
    const bool calling = turn.phase == StudyPhase::call;
    if (chip(look, "shot", "1", "shot", turn.call == Read::shot, calling))
        panel.actions.push_back(CallRead{Read::shot});
    ImGui::SameLine(0.0F, 0.5F * look.unit);
    if (chip(look, "pass", "2", "pass", turn.call == Read::pass, calling))
        panel.actions.push_back(CallRead{Read::pass});
    if (!settings.ask_how_sure && !turn.sure) return;
    ImGui::SameLine(0.0F, 1.5F * look.unit);
    const float right = panel.place.x + panel.place.width - look.unit;
    const bool asked = turn.phase == StudyPhase::sure;
    for (int index = 0; index < 3; ++index) {
        const auto sure = static_cast<Sureness>(index);
        const std::string key = asked ? std::to_string(index + 1) : "";
        if (index > 0) wrap_chip(look, key, label_of(sure), right);
        ImGui::PushID(index);
        if (chip(look, "sure", key, label_of(sure), turn.sure == sure, asked))
            panel.actions.push_back(CallSure{sure});
        ImGui::PopID();
    }
}

const char* what_to_do(const StudyTurn& turn) {
    switch (turn.phase) {
    case StudyPhase::run_up:
        return "The film runs up to the moment and stops.";
    case StudyPhase::call:
        return turn.on_film ? "What comes next? 1 or 2. [run_film] shows the run-up again."
                            : "No film of this one: read it off the plan. What comes next? 1 or 2.";
    case StudyPhase::sure:
        return "How sure are you of that? 1, 2 or 3.";
    case StudyPhase::place:
        return "Now click on the plan where you want to stand.";
    case StudyPhase::answer:
        break;
    }
    return "";
}

/// The reviewer's word before the model's.
void draw_overrule(const Look& look, const LogState& log) {
    const Moment* moment = moment_in_hand(log);
    if (!moment || !moment->overruled) return;
    ImGui::PushTextWrapPos(0.0F);
    text_in(look.strong, look.colours.rope,
            fmt::format("The coach: {}{}{}", label_of(*moment->overruled),
                        moment->overrule_reason.empty() ? "." : ". ", moment->overrule_reason));
    ImGui::PopTextWrapPos();
}

void say(const Look& look, std::optional<bool> right, const std::string& words) {
    const ImU32 colour = !right ? look.colours.quiet : *right ? look.colours.save : look.colours.trouble;
    ImGui::PushTextWrapPos(0.0F);
    text_in(look.strong, colour, words);
    ImGui::PopTextWrapPos();
}

void draw_outcome_and_note(const Look& look, const ShotEntry& entry) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_outcome(ImGui::GetWindowDrawList(), {at.x + 0.5F * look.unit, at.y + 0.55F * look.unit},
                 0.8F * look.unit, entry.shot.outcome, look.colours);
    ImGui::Dummy({1.3F * look.unit, look.unit});
    ImGui::SameLine();
    text_in(look.strong, look.colours.text,
            entry.shot.outcome ? std::string{label_of(*entry.shot.outcome)} : "outcome not logged");
    if (!entry.shot.note.empty()) wrapped_text("Note: " + entry.shot.note, look.colours.text);
}

void draw_answer(const Panel& panel, const LogPart& part, const StudyPart& study) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const ShotEntry* entry = chosen_shot(part.state());
    const StudyTurn& turn = *study.turn;
    if (!entry || !turn.answer) return;
    const Moment* moment = moment_in_hand(part.state());
    const auto came = moment ? next_action(entry->shot, entry->moments, *moment) : std::nullopt;
    say(look, turn.answer->call_right, call_words(*turn.answer, came));
    if (turn.worth) say(look, turn.worth->right, place_words(*turn.worth));
    if (const auto& view = part.view.judged) wrapped_text("Advised: " + view->advice, c.text);
    text_in(look.heading, c.text, "In the game");
    draw_overrule(look, part.state());
    if (const auto& view = part.view.judged; view && turn.worth && !turn.worth->on_post)
        wrapped_text(fmt::format("From there {:.0f} % of the net was left open, by the coach's marks.",
                                 100.0 * view->decision.left),
                     c.text);
    draw_outcome_and_note(look, *entry);
    if (word_button(look, "Next", true)) panel.actions.push_back(Press{Command::take_shot});
    ImGui::SameLine();
    if (word_button(look, "Back to the list")) panel.actions.push_back(LeaveStudy{});
    const std::string due = due_words(*turn.answer, study.day);
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (ImGui::GetItemRectMax().x + look.unit + text_size(look.body, due).x <= right)
        ImGui::SameLine(0.0F, look.unit);
    quiet_text(look, due);
}

} // namespace

void draw_study_card(const Panel& panel, const LogPart& part, const Settings& settings,
                     const StudyPart& study) {
    const Look& look = panel.look;
    const StudyTurn& turn = *study.turn;
    begin_panel("study card", panel.place, look.colours.panel, it_scrolls);
    text_in(look.heading, look.colours.text, turn.phase == StudyPhase::answer ? "Your answer" : "Your call");
    if (const auto here = std::ranges::find(study.round, turn.moment_id); here != study.round.end()) {
        ImGui::SameLine(0.0F, look.unit);
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
        quiet_text(look, fmt::format("{} of {}", here - study.round.begin() + 1, study.round.size()));
    }
    draw_call(panel, settings, turn);
    ImGui::Spacing();
    if (turn.phase == StudyPhase::answer) {
        draw_answer(panel, part, study);
    } else {
        wrapped_text(what_to_do(turn),
                     turn.phase == StudyPhase::run_up ? look.colours.quiet : look.colours.rope);
    }
    // With film it stands over the picture.
    if (const Notice& notice = part.state().notice; !turn.on_film && !notice.text.empty())
        wrapped_text(notice.text, notice.trouble ? look.colours.trouble : look.colours.text);
    ImGui::End();
}

} // namespace ropeline
