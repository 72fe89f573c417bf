// The first ten minutes: what to do next, and what is done already.
#include "desk/panels/guide.h"

#include "desk/panels/pieces.h"

namespace ropeline {

namespace {

/// A ring for a step still to do, filled with a tick once it is done.
void draw_step_mark(const Look& look, ImDrawList* draw, ImVec2 middle, bool done, bool now) {
    const Palette& c = look.colours;
    const float r = 0.42F * look.unit;
    if (!done) return draw->AddCircle(middle, r, now ? c.rope : c.faint, 0, 0.12F * look.unit);
    draw->AddCircleFilled(middle, r, c.save);
    const ImVec2 tick[] = {{middle.x - 0.5F * r, middle.y},
                           {middle.x - 0.1F * r, middle.y + 0.4F * r},
                           {middle.x + 0.5F * r, middle.y - 0.4F * r}};
    draw->AddPolyline(tick, 3, c.panel, ImDrawFlags_None, 0.14F * look.unit);
}

} // namespace

void draw_guide(const Look& look, const Rect& place, const Guide& guide, const LogState& log,
                std::size_t answers) {
    const Palette& c = look.colours;
    begin_panel("guide", place, c.panel, it_scrolls);
    const auto steps = guide_steps(guide, log, answers);
    text_in(look.strong, c.rope, "First ten minutes");
    const std::string closes = with_keys("[guide] closes it");
    ImGui::SameLine(0.0F, look.unit);
    if (text_size(look.body, closes).x > ImGui::GetContentRegionAvail().x) ImGui::NewLine();
    quiet_text(look, closes);
    bool before = true; // the first step that is not done yet is the one to do now
    for (const GuideStep& step : steps) {
        const bool now = before && !step.done;
        before = before && step.done;
        const ImVec2 at = ImGui::GetCursorScreenPos();
        draw_step_mark(look, ImGui::GetWindowDrawList(), {at.x + 0.5F * look.unit, at.y + 0.5F * look.unit},
                       step.done, now);
        ImGui::SetCursorScreenPos({at.x + 1.5F * look.unit, at.y});
        ImGui::PushTextWrapPos(0.0F);
        text_in(now ? look.strong : look.body, now ? c.text : c.quiet, step.title);
        ImGui::PopTextWrapPos();
        if (!now) continue;
        ImGui::SetCursorScreenPos({at.x + 1.5F * look.unit, ImGui::GetCursorScreenPos().y});
        wrapped_text(step.how, c.text);
        ImGui::SetScrollHereY(1.0F);
    }
    if (before)
        wrapped_text(
            "That is the whole job: five steps a shot become one. Drills that follow from it: full gear, a "
            "certified coach, your association's rules.",
            c.text);
    ImGui::End();
}

} // namespace ropeline
