// The first ten minutes: what to do next, and what is done already.
#include "desk/panels/ui.h"

#include "desk/state/guide.h"

namespace ropeline {

namespace {

/// A ring for a step still to do, filled with a tick once it is done.
void draw_step_mark(const App& app, ImDrawList* draw, ImVec2 middle, bool done, bool now) {
    const Palette& c = app.look.colours;
    const float r = 0.42F * app.look.unit;
    if (!done) return draw->AddCircle(middle, r, now ? c.rope : c.faint, 0, 0.12F * app.look.unit);
    draw->AddCircleFilled(middle, r, c.save);
    const ImVec2 tick[] = {{middle.x - 0.5F * r, middle.y},
                           {middle.x - 0.1F * r, middle.y + 0.4F * r},
                           {middle.x + 0.5F * r, middle.y - 0.4F * r}};
    draw->AddPolyline(tick, 3, c.panel, ImDrawFlags_None, 0.14F * app.look.unit);
}

} // namespace

void draw_guide(App& app, const Rect& place) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    begin_panel("guide", place, c.panel, ImGuiWindowFlags_None);
    const auto steps = guide_steps(*app.guide, app.book->state(), app.book->file().answers().size());
    text_in(look.strong, c.rope, "First ten minutes");
    ImGui::SameLine(0.0F, look.unit);
    quiet_text(app, with_keys("[guide] closes it"));
    bool before = true; // the first step that is not done yet is the one to do now
    for (const GuideStep& step : steps) {
        const bool now = before && !step.done;
        before = before && step.done;
        const ImVec2 at = ImGui::GetCursorScreenPos();
        draw_step_mark(app, ImGui::GetWindowDrawList(), {at.x + 0.5F * look.unit, at.y + 0.5F * look.unit},
                       step.done, now);
        ImGui::SetCursorScreenPos({at.x + 1.5F * look.unit, at.y});
        text_in(now ? look.strong : look.body, now ? c.text : c.quiet, step.title);
        if (!now) continue;
        ImGui::SetCursorScreenPos({at.x + 1.5F * look.unit, ImGui::GetCursorScreenPos().y});
        wrapped_text(app, step.how, c.text);
        ImGui::SetScrollHereY(1.0F);
    }
    if (before)
        wrapped_text(
            app,
            "That is the whole job: five steps a shot become one. Drills that follow from it: full gear, a "
            "certified coach, your association's rules.",
            c.text);
    ImGui::End();
}

} // namespace ropeline
