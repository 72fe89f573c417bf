#include "desk/panels/card_details.h"

#include "desk/panels/card_lines.h"

#include <imgui_stdlib.h>

namespace ropeline {

void draw_net_places(const Panel& panel, const Goalie* goalie, int chosen, bool focused) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const std::string catches = goalie ? goalie->catches : std::string{};
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 part{3.0F * look.unit, 2.1F * look.unit};
    ImDrawList* draw = ImGui::GetWindowDrawList();
    for (int place = 0; place < 6; ++place) {
        const int across = place % 3, down = place / 3;
        const int number = net_place_at((across + 0.5) / 3.0, down == 0 ? 0.75 : 0.25, catches);
        const ImVec2 from{at.x + part.x * static_cast<float>(across),
                          at.y + part.y * static_cast<float>(down)};
        const ImVec2 to{from.x + part.x, from.y + part.y};
        ImGui::SetCursorScreenPos(from);
        ImGui::PushID(place);
        if (ImGui::InvisibleButton("place", part))
            panel.actions.push_back(ChooseIn{card_field(Detail::net_place), number});
        const bool here = ImGui::IsItemHovered(), set = chosen == number;
        ImGui::PopID();
        if (here)
            ImGui::SetTooltip(
                "%s",
                std::string{
                    choices_of(card_field(Detail::net_place)).at(static_cast<std::size_t>(number - 1))}
                    .c_str());
        draw->AddRectFilled(from, to, set ? c.rope : here ? c.edge : c.raised);
        draw->AddRect(from, to, faded(c.quiet, 0.35F));
        const std::string key = std::to_string(number);
        const ImVec2 size = text_size(look.body, key);
        draw_text(draw, look.body, {from.x + 0.5F * (part.x - size.x), from.y + 0.5F * (part.y - size.y)},
                  set       ? c.on_rope
                  : focused ? c.text
                            : c.quiet,
                  key);
    }
    const float right = at.x + 3.0F * part.x, foot = at.y + 2.0F * part.y;
    const ImVec2 pipe[] = {{at.x, foot}, {at.x, at.y}, {right, at.y}, {right, foot}};
    draw->AddPolyline(pipe, 4, c.red_paint, ImDrawFlags_None, look.pen(3.0F));
    const bool glove_left = catches == "right";
    draw_text(draw, look.body, {at.x, foot + 0.1F * look.unit}, c.quiet, glove_left ? "glove" : "blocker");
    const std::string_view other = glove_left ? "blocker" : "glove";
    draw_text(draw, look.body, {right - text_size(look.body, other).x, foot + 0.1F * look.unit}, c.quiet,
              other);
    const std::string set{
        chosen > 0 ? choices_of(card_field(Detail::net_place)).at(static_cast<std::size_t>(chosen - 1))
                   : std::string_view{"click where it went"}};
    draw_text(draw, look.body, {right + look.unit, at.y + 0.2F * look.unit}, chosen > 0 ? c.text : c.faint,
              set);
    draw_text(draw, look.body, {right + look.unit, at.y + 1.4F * look.unit}, c.faint,
              "as the shooter sees it");
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy({3.0F * part.x, 2.0F * part.y + 1.3F * look.unit});
}

namespace {

/// Tab completes the tag that is being typed.
int complete(ImGuiInputTextCallbackData* data) {
    const auto& known = *static_cast<const std::vector<std::string>*>(data->UserData);
    const std::string text = completed_tags(known, data->Buf);
    data->DeleteChars(0, data->BufTextLen);
    data->InsertChars(0, text.c_str());
    return 0;
}

void draw_text_line(const Panel& panel, const LogState& log, const ShotEntry& entry, ShotText field,
                    float label_width, CardEntry& typed) {
    const Look& look = panel.look;
    std::string& text = typed.texts.at(static_cast<std::size_t>(field));
    if (typed.texts_of != entry.shot.id) text = written(entry.shot, field);
    draw_line_label(look, fact_of(field).label, false, label_width);
    ImGui::PushID(static_cast<int>(field));
    ImGui::SetNextItemWidth(-1.0F);
    if (field == ShotText::tags) {
        auto* known = const_cast<std::vector<std::string>*>(&log.tags); // the callback's pointer is no const
        ImGui::InputTextWithHint("##text", "words, commas between; Tab completes", &text,
                                 ImGuiInputTextFlags_CallbackCompletion, complete, known);
    } else {
        ImGui::InputText("##text", &text);
    }
    if (ImGui::IsItemActivated()) typed.texts_of = entry.shot.id;
    if (ImGui::IsItemDeactivated()) {
        if (ImGui::IsItemDeactivatedAfterEdit()) panel.actions.push_back(WriteShotText{field, text});
        typed.texts_of.clear();
    }
    ImGui::PopID();
}

} // namespace

void draw_shot_texts(const Panel& panel, const LogState& log, const ShotEntry& entry, float label_width,
                     CardEntry& typed) {
    for (int index = 0; index < shot_texts; ++index) {
        const auto field = static_cast<ShotText>(index);
        if (log.asks.contains(std::string{fact_of(field).key}))
            draw_text_line(panel, log, entry, field, label_width, typed);
    }
}

} // namespace ropeline
