#include "desk/panels/card_details.h"

#include <imgui_stdlib.h>

namespace ropeline {

namespace {

/// The line's label; what follows is drawn behind it.
void draw_label(const Look& look, std::string_view label, bool focused, float label_width) {
    const ImVec2 start = ImGui::GetCursorScreenPos();
    draw_text(ImGui::GetWindowDrawList(), focused ? look.strong : look.body,
              {start.x, start.y + 0.25F * look.unit}, focused ? look.colours.rope : look.colours.quiet,
              label);
    ImGui::SetCursorScreenPos({start.x + label_width, start.y});
}

void draw_choices(const Panel& panel, const LogState& log, const ShotEntry& entry, Detail detail,
                  float label_width, CardField& in_sight) {
    const Look& look = panel.look;
    const Moment* moment = moment_in_hand(log);
    if (fact_of(detail).of_moment && !moment) return;
    const CardField field = card_field(detail);
    const bool focused = log.field == field;
    const int chosen = (fact_of(detail).of_moment ? moment->details : entry.shot.details).of(detail);
    draw_label(look, fact_of(detail).label, focused, label_width);
    const float right = panel.place.x + panel.place.width - 0.6F * look.unit;
    ImGui::BeginGroup();
    ImGui::PushID(static_cast<int>(field));
    int number = 0;
    for (const DetailChoice& choice : fact_of(detail).choices) {
        const std::string key = std::to_string(++number);
        if (number > 1) wrap_chip(look, key, choice.label, right);
        ImGui::PushID(number);
        if (chip(look, "choice", key, choice.label, chosen == number, focused))
            panel.actions.push_back(ChooseIn{field, number});
        ImGui::PopID();
    }
    ImGui::PopID();
    ImGui::EndGroup();
    if (focused && in_sight != field) {
        in_sight = field;
        ImGui::SetScrollHereY(0.5F);
    }
}

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
    draw_label(look, fact_of(field).label, false, label_width);
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

void draw_card_details(const Panel& panel, const LogState& log, const ShotEntry& entry, float label_width,
                       CardEntry& typed) {
    for (const CardField field : shown_fields(log.asks))
        if (const auto detail = detail_in(field))
            draw_choices(panel, log, entry, *detail, label_width, typed.in_sight);
    for (int index = 0; index < shot_texts; ++index) {
        const auto field = static_cast<ShotText>(index);
        if (log.asks.contains(std::string{fact_of(field).key}))
            draw_text_line(panel, log, entry, field, label_width, typed);
    }
}

} // namespace ropeline
