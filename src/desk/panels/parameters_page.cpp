// The figures behind the model, by level of play: each with its unit, its source, and what it may honestly
// be.
#include "desk/panels/parameters_page.h"

#include "depth/parameters.h"

#include <fmt/core.h>

#include <array>

namespace ropeline {

namespace {

constexpr std::array levels = {Level::youth, Level::junior, Level::senior, Level::elite};

void draw_levels(const Panel& panel, Level now, float right) {
    const Look& look = panel.look;
    for (std::size_t index = 0; index < levels.size(); ++index) {
        if (index > 0) wrap_chip(look, "", key_of(levels[index]), right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "level", "", key_of(levels[index]), levels[index] == now, false))
            panel.actions.push_back(SetLevel{levels[index]});
        ImGui::PopID();
    }
}

std::string stated_words(const ParameterFact& fact, Level level) {
    if (!fact.stated) return "a setting";
    const ParameterRange range = (*fact.stated)[static_cast<std::size_t>(level)];
    return range.low == range.high ? fmt::format("{:.2f}", range.low)
                                   : fmt::format("{:.2f} to {:.2f}", range.low, range.high);
}

void draw_row(const Panel& panel, const Season& season, const ParameterFact& fact, ParameterEntry& entry) {
    const Look& look = panel.look;
    const auto now = parameter(season.parameters, fact.key);
    if (!now) return;
    const double usual = fact.by_level[static_cast<std::size_t>(season.level)];
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(fact.label.data(), fact.label.data() + fact.label.size());
    ImGui::TableNextColumn();
    ImGui::PushID(fact.key.data());
    double value = entry.key == fact.key ? entry.typed : *now;
    ImGui::SetNextItemWidth(5.5F * look.unit);
    if (ImGui::InputDouble("##value", &value, 0.0, 0.0, "%.2f")) {
        entry = {fact.key, value};
    }
    if (entry.key == fact.key && ImGui::IsItemDeactivatedAfterEdit()) {
        panel.actions.push_back(SetParameter{std::string(fact.key), entry.typed});
        entry = {};
    }
    ImGui::PopID();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(fact.unit.data(), fact.unit.data() + fact.unit.size());
    ImGui::TableNextColumn();
    quiet_text(look, *now == usual
                         ? stated_words(fact, season.level)
                         : fmt::format("{} (usual {:.2f})", stated_words(fact, season.level), usual));
    ImGui::TableNextColumn();
    wrapped_text(fact.source, look.colours.quiet);
}

} // namespace

void draw_parameters_page(const Panel& panel, const LogPart& part, ParameterEntry& entry) {
    const Look& look = panel.look;
    const LogState& log = part.state();
    begin_sheet(look, "parameters", std::min(66.0F * look.unit, panel.place.width),
                std::min(46.0F * look.unit, panel.place.height));
    draw_page_heading(look, "Level of play, and the figures behind the model");
    wrapped_text(
        "Speeds and times are ranges or from memory, not laws: a verdict that would change inside its range "
        "says so. A change works every shot of the season out again; [undo] takes it back.",
        look.colours.quiet);
    ImGui::Spacing();
    draw_levels(panel, log.season.level, ImGui::GetWindowPos().x + ImGui::GetWindowWidth() - look.unit);
    ImGui::Spacing();
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit;
    if (ImGui::BeginTable("figures", 5, flags, {0.0F, -2.2F * look.unit})) {
        ImGui::TableSetupScrollFreeze(0, 1);
        for (const char* title : {"figure", "in force", "unit", "stated range"})
            ImGui::TableSetupColumn(title);
        ImGui::TableSetupColumn("source", ImGuiTableColumnFlags_WidthStretch);
        ImGui::TableHeadersRow();
        for (const ParameterFact& fact : parameter_facts())
            draw_row(panel, log.season, fact, entry);
        ImGui::EndTable();
    }
    if (part.progress) {
        ImGui::ProgressBar(static_cast<float>(*part.progress), {-1.0F, 1.2F * look.unit}, "");
    } else if (const Notice& notice = log.notice; !notice.text.empty()) {
        text_in(look.body, notice.trouble ? look.colours.trouble : look.colours.quiet, notice.text);
    }
    ImGui::End();
}

} // namespace ropeline
