// The chooser: the field with what is typed, places to begin from, and what is in the folder.
#include "desk/panels/chooser_sheet.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>

namespace ropeline {

namespace {

const char* heading_of(ChooserFor what) {
    switch (what) {
    case ChooserFor::season:
        return "Choose a season";
    case ChooserFor::new_film:
        return "Choose the film";
    case ChooserFor::new_season:
        return "Where the season is kept";
    case ChooserFor::film_or_list:
        return "Choose a film, or a list of shots";
    case ChooserFor::other_season:
        return "Choose the other coach's season";
    }
    return "";
}

void write_field(ImGuiInputTextCallbackData* data, const std::string& text) {
    data->DeleteChars(0, data->BufTextLen);
    data->InsertChars(0, text.c_str());
    data->CursorPos = data->SelectionStart = data->SelectionEnd = data->BufTextLen;
}

/// Tab completes, the arrows pick, and the cursor goes to the end when the field is entered.
int type_on(ImGuiInputTextCallbackData* data) {
    auto& desk = *static_cast<ChooserDesk*>(data->UserData);
    if (data->EventFlag == ImGuiInputTextFlags_CallbackCompletion) {
        desk.chooser.typed.assign(data->Buf, static_cast<std::size_t>(data->BufTextLen));
        complete(desk.chooser);
        write_field(data, desk.chooser.typed);
    } else if (data->EventFlag == ImGuiInputTextFlags_CallbackHistory) {
        pick_by(desk.chooser, data->EventKey == ImGuiKey_UpArrow ? -1 : 1);
    } else if (desk.to_field) {
        data->CursorPos = data->SelectionStart = data->SelectionEnd = data->BufTextLen;
        desk.to_field = false;
    }
    return 0;
}

void draw_typed(const Panel& panel, ChooserDesk& desk) {
    if (desk.to_field) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(-1.0F);
    std::string typed = desk.chooser.typed;
    constexpr ImGuiInputTextFlags flags =
        ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackCompletion |
        ImGuiInputTextFlags_CallbackHistory | ImGuiInputTextFlags_CallbackAlways;
    const bool entered =
        ImGui::InputTextWithHint("##typed", "~/Videos/game.mp4", &typed, flags, type_on, &desk);
    if (typed != desk.chooser.typed) type_anew(desk.chooser, typed);
    if (entered) panel.actions.push_back(EnterChoice{});
}

void draw_places(const Panel& panel, ChooserDesk& desk) {
    const Look& look = panel.look;
    if (ImGui::Selectable("↑  one folder up")) go_up(desk.chooser);
    ImGui::Dummy({1.0F, 0.3F * look.unit});
    const auto here = typed_folder(desk.chooser);
    for (std::size_t index = 0; index < desk.chooser.places.size(); ++index) {
        const StartingPlace place = desk.chooser.places[index];
        ImGui::PushID(static_cast<int>(index));
        const std::string name = shortened(look.body, place.name, ImGui::GetContentRegionAvail().x);
        if (ImGui::Selectable(name.c_str(), here == place.folder)) {
            go_into(desk.chooser, place.folder);
            desk.to_field = true;
        }
        ImGui::PopID();
    }
}

std::string size_words(std::uintmax_t bytes) {
    const auto size = static_cast<double>(bytes);
    if (size >= 1e9) return fmt::format("{:.1f} GB", size / 1e9);
    if (size >= 1e6) return fmt::format("{:.0f} MB", size / 1e6);
    return fmt::format("{:.0f} kB", std::ceil(size / 1e3));
}

/// A folder, or a sheet of film, before the name.
void draw_kind(const Look& look, ImVec2 at, bool is_folder) {
    const Palette& c = look.colours;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float u = look.unit;
    if (is_folder) {
        draw->AddRectFilled({at.x, at.y + 0.15F * u}, {at.x + 0.45F * u, at.y + 0.4F * u}, c.rope, 0.1F * u);
        draw->AddRectFilled({at.x, at.y + 0.25F * u}, {at.x + 0.95F * u, at.y + 0.9F * u}, c.rope, 0.1F * u);
    } else {
        draw->AddRect({at.x + 0.1F * u, at.y + 0.15F * u}, {at.x + 0.85F * u, at.y + 0.9F * u}, c.quiet,
                      0.1F * u, 0, look.pen(1.5F));
    }
}

void draw_entries(const Panel& panel, ChooserDesk& desk) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    Chooser& chooser = desk.chooser;
    if (desk.reading) return quiet_text(look, "Reading the folder …");
    if (!chooser.listing.why.empty()) return wrapped_text(chooser.listing.why, c.trouble);
    const std::vector<FolderEntry> shown = shown_entries(chooser);
    if (shown.empty())
        wrapped_text(chooser.every_file ? "Nothing here begins like that." : "Nothing to choose here.",
                     c.quiet);
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(shown.size()), 1.6F * look.unit);
    if (chooser.picked)
        clipper.ForceDisplayRangeByIndices(static_cast<int>(*chooser.picked),
                                           static_cast<int>(*chooser.picked) + 1);
    while (clipper.Step()) {
        for (int row = clipper.DisplayStart; row < clipper.DisplayEnd; ++row) {
            const auto index = static_cast<std::size_t>(row);
            const FolderEntry& entry = shown[index];
            const ImVec2 at = ImGui::GetCursorScreenPos();
            const float wide = ImGui::GetContentRegionAvail().x;
            ImGui::PushID(row);
            const bool picked = chooser.picked == index;
            if (ImGui::Selectable("##entry", picked, ImGuiSelectableFlags_AllowDoubleClick,
                                  {0.0F, 1.2F * look.unit})) {
                chooser.picked = index;
                chooser.trouble.clear();
                if (entry.is_folder || ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left))
                    panel.actions.push_back(EnterChoice{});
            }
            if (picked && !ImGui::IsItemVisible()) ImGui::SetScrollHereY();
            ImGui::PopID();
            draw_kind(look, {at.x + 0.2F * look.unit, at.y}, entry.is_folder);
            const std::string size = entry.is_folder ? "" : size_words(entry.bytes);
            const float size_wide = text_size(look.body, size).x + look.unit;
            ImDrawList* draw = ImGui::GetWindowDrawList();
            draw_text(draw, look.body, {at.x + 1.6F * look.unit, at.y + 0.05F * look.unit}, c.text,
                      shortened(look.body, entry.name, wide - size_wide - 2.0F * look.unit));
            draw_text(draw, look.body, {at.x + wide - size_wide, at.y + 0.05F * look.unit}, c.quiet, size);
        }
    }
}

void draw_foot(const Panel& panel, ChooserDesk& desk) {
    const Look& look = panel.look;
    const bool place = desk.chooser.what == ChooserFor::new_season;
    if (word_button(look, place ? "Keep it here  (Enter)" : "Open  (Enter)", true))
        panel.actions.push_back(EnterChoice{});
    ImGui::SameLine();
    if (word_button(look, with_keys("Leave  ([put_down])").c_str()))
        panel.actions.push_back(Press{Command::put_down});
    if (!place) {
        ImGui::SameLine();
        if (word_button(look, desk.chooser.every_file ? "Only what suits" : "Every file")) {
            desk.chooser.every_file = !desk.chooser.every_file;
            desk.to_field = true;
        }
    }
    if (desk.system_has_one) {
        ImGui::SameLine();
        if (word_button(look, "System's window")) panel.actions.push_back(AskSystem{});
    }
}

} // namespace

void draw_chooser(const Panel& panel, ChooserDesk& desk) {
    const Look& look = panel.look;
    const float unit = look.unit;
    begin_sheet(look, "chooser", 54.0F * unit, 36.0F * unit);
    text_in(look.heading, look.colours.text, heading_of(desk.chooser.what));
    draw_typed(panel, desk);
    const std::string& trouble = desk.chooser.trouble;
    if (trouble.empty())
        quiet_text(look, "Tab completes, ↑ ↓ pick, Enter opens. ~ is the home folder.");
    else
        wrapped_text(trouble, look.colours.trouble);
    const float foot = 2.6F * unit;
    const float tall = std::max(4.0F * unit, ImGui::GetContentRegionAvail().y - foot);
    ImGui::BeginChild("places", {12.0F * unit, tall});
    draw_places(panel, desk);
    ImGui::EndChild();
    ImGui::SameLine(0.0F, unit);
    ImGui::PushStyleColor(ImGuiCol_ChildBg, look.colours.ground);
    ImGui::BeginChild("entries", {0.0F, tall}, false, ImGuiWindowFlags_AlwaysUseWindowPadding);
    draw_entries(panel, desk);
    ImGui::EndChild();
    ImGui::PopStyleColor();
    draw_foot(panel, desk);
    ImGui::End();
}

} // namespace ropeline
