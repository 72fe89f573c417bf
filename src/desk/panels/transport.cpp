#include "desk/panels/transport.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

enum class Sign { to_start, back, run, hold, on, to_end };

void draw_sign(ImDrawList* draw, ImVec2 middle, float size, Sign sign, ImU32 colour) {
    const float r = 0.5F * size, bar = 0.22F * size;
    const auto arrow = [&](float x, float way) {
        draw->AddTriangleFilled({x - way * r, middle.y - r}, {x + way * r, middle.y},
                                {x - way * r, middle.y + r}, colour);
    };
    const auto post = [&](float x) {
        draw->AddRectFilled({x - 0.5F * bar, middle.y - r}, {x + 0.5F * bar, middle.y + r}, colour);
    };
    switch (sign) {
    case Sign::to_start:
        post(middle.x - r);
        return arrow(middle.x + 0.35F * r, -1.0F);
    case Sign::back:
        post(middle.x + r);
        return arrow(middle.x - 0.35F * r, -1.0F);
    case Sign::run:
        return arrow(middle.x, 1.0F);
    case Sign::hold:
        post(middle.x - 0.45F * r);
        return post(middle.x + 0.45F * r);
    case Sign::on:
        post(middle.x - r);
        return arrow(middle.x + 0.35F * r, 1.0F);
    case Sign::to_end:
        post(middle.x + r);
        return arrow(middle.x - 0.35F * r, 1.0F);
    }
}

/// Held down it repeats. Out: where the next one begins.
float button(const Panel& panel, ScreenPoint at, Sign sign, Command command) {
    const Look& look = panel.look;
    const ImVec2 size{1.9F * look.unit, 1.5F * look.unit};
    ImGui::SetCursorScreenPos({at.x, at.y});
    const bool steps = sign == Sign::back || sign == Sign::on;
    if (steps) ImGui::PushButtonRepeat(true);
    ImGui::PushID(static_cast<int>(sign == Sign::hold ? Sign::run : sign));
    if (ImGui::InvisibleButton("transport", size)) panel.actions.push_back(Press{command});
    ImGui::PopID();
    if (steps) ImGui::PopButtonRepeat();
    const bool hovered = ImGui::IsItemHovered();
    if (hovered) {
        const std::string words{label_of(command)};
        ImGui::SetTooltip("%s   %s", words.c_str(), shown_chord(chord_of(command)).c_str());
    }
    ImDrawList* draw = ImGui::GetWindowDrawList();
    draw->AddRectFilled({at.x, at.y}, {at.x + size.x, at.y + size.y},
                        hovered ? look.colours.edge : look.colours.raised, 0.2F * look.unit);
    draw_sign(draw, {at.x + 0.5F * size.x, at.y + 0.5F * size.y}, 0.75F * look.unit, sign, look.colours.text);
    return at.x + size.x + 0.2F * look.unit;
}

/// The tempo as it is set; a click shows all of them.
float draw_tempo(const Panel& panel, FilmStage& stage, ScreenPoint at) {
    const Look& look = panel.look;
    ImGui::SetCursorScreenPos({at.x, at.y});
    const std::string now = fmt::format("{}×", tempo_words(stage.player.tempo));
    const float wide = text_size(look.body, "1/8×").x + 0.9F * look.unit;
    if (ImGui::InvisibleButton("tempo", {wide, 1.5F * look.unit})) ImGui::OpenPopup("tempos");
    const bool hovered = ImGui::IsItemHovered();
    if (hovered)
        ImGui::SetTooltip("%s", with_keys("tempo: [slower] slower, [faster] faster without sound").c_str());
    ImDrawList* draw = ImGui::GetWindowDrawList();
    draw->AddRectFilled({at.x, at.y}, {at.x + wide, at.y + 1.5F * look.unit},
                        hovered ? look.colours.edge : look.colours.raised, 0.2F * look.unit);
    draw_text(draw, look.body, {at.x + 0.5F * (wide - text_size(look.body, now).x), at.y + 0.25F * look.unit},
              stage.player.tempo == 0 ? look.colours.text : look.colours.rope, now);
    if (ImGui::BeginPopup("tempos")) {
        for (int tempo = slowest_tempo; tempo >= fastest_tempo; --tempo) {
            ImGui::PushID(tempo);
            if (tempo != slowest_tempo) ImGui::SameLine(0.0F, 0.3F * look.unit);
            if (chip(look, "tempo", "", fmt::format("{}×", tempo_words(tempo)), tempo == stage.player.tempo,
                     false)) {
                stage.player = with_tempo(stage.player, tempo);
                ImGui::CloseCurrentPopup();
            }
            ImGui::PopID();
        }
        ImGui::EndPopup();
    }
    return at.x + wide;
}

} // namespace

float draw_transport(const Panel& panel, FilmStage& stage, ScreenPoint at) {
    const float begin = at.x;
    at.x = button(panel, at, Sign::to_start, Command::film_start);
    at.x = button(panel, at, Sign::back, Command::frame_back);
    at.x = button(panel, at, stage.player.playing ? Sign::hold : Sign::run, Command::run_film);
    at.x = button(panel, at, Sign::on, Command::frame_on);
    at.x = button(panel, at, Sign::to_end, Command::film_end);
    at.x = draw_tempo(panel, stage, at);
    return at.x - begin;
}

} // namespace ropeline
