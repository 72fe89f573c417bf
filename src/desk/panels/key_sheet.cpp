// Every key on one sheet.
#include "desk/panels/key_sheet.h"

#include "desk/panels/pieces.h"

#include "desk/state/key_file.h"

#include <algorithm>
#include <functional>
#include <span>
#include <vector>

namespace ropeline {

namespace {

using KeyGroup = std::span<const KeyBinding>;

std::size_t lines_of(KeyGroup group) {
    return group.size();
}

/// The first two lead a column each; of the rest the long ones come first, so that the columns end up alike.
std::vector<KeyGroup> groups_by_column() {
    std::vector<KeyGroup> groups;
    const auto& all = key_bindings();
    for (auto from = all.begin(); from != all.end();) {
        const auto to = std::find_if(from, all.end(),
                                     [&](const KeyBinding& other) { return other.group != from->group; });
        groups.emplace_back(from, to);
        from = to;
    }
    std::ranges::stable_sort(groups.begin() + 2, groups.end(), std::greater{}, lines_of);
    return groups;
}

} // namespace

void draw_key_sheet(const Look& look, float width, float height) {
    const float wide = std::min(74.0F * look.unit, width - 2.0F * look.unit);
    begin_sheet(look, "key sheet", wide, std::min(53.0F * look.unit, height));
    text_in(look.heading, look.colours.text, "All keys");
    ImGui::SameLine(0.0F, look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    quiet_text(look, with_keys("[key_sheet] or [put_down] closes this sheet. Other keys: write them into ") +
                         key_file_path().string());
    ImGui::Spacing();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const ImVec2 room = ImGui::GetContentRegionAvail();
    // Three columns, or fewer where the longest line would run into the next.
    float longest = 1.0F;
    for (const KeyBinding& binding : key_bindings())
        longest = std::max(longest, key_width(look, binding.chord, binding.label) + look.unit);
    const auto sides = static_cast<std::size_t>(std::clamp(room.x / longest, 1.0F, 3.0F));
    const float column = room.x / static_cast<float>(sides);
    struct Placed {
        KeyGroup group;
        std::size_t side = 0;
        float lines_down = 0.0F;
    };
    std::vector<Placed> placed;
    std::vector<float> lines(sides, 0.0F);
    for (const KeyGroup& group : groups_by_column()) {
        const auto side = static_cast<std::size_t>(std::ranges::min_element(lines) - lines.begin());
        const float gap = lines[side] > 0.0F ? 0.5F : 0.0F;
        placed.push_back({group, side, lines[side] + gap});
        lines[side] += gap + 1.0F + static_cast<float>(group.size());
    }
    const float most = std::ranges::max(lines);
    const float line = std::clamp(room.y / most, 1.42F * look.unit, 1.62F * look.unit);
    for (const Placed& each : placed) {
        const float x = start.x + static_cast<float>(each.side) * column;
        float y = start.y + each.lines_down * line;
        draw_text(draw, look.strong, {x, y}, look.colours.text, each.group.front().group);
        for (const KeyBinding& binding : each.group)
            draw_key(look, draw, {x, y += line}, binding.chord, binding.label);
    }
    ImGui::Dummy({1.0F, most * line - ImGui::GetStyle().ItemSpacing.y});
    ImGui::End();
}

} // namespace ropeline
