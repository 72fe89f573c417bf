// The figures behind the model, by level of play: each with its unit, its source, and what it may honestly
// be.
#include "desk/panels/ui.h"

#include "depth/parameters.h"

#include <fmt/core.h>

#include <array>

namespace ropeline {

namespace {

constexpr std::array levels = {Level::youth, Level::junior, Level::senior, Level::elite};

void draw_levels(App& app, float right) {
    const Level now = app.book->state().season.level;
    for (std::size_t index = 0; index < levels.size(); ++index) {
        if (index > 0) wrap_chip(app, "", key_of(levels[index]), right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(app, "level", "", key_of(levels[index]), levels[index] == now, false))
            app.actions.push_back(SetLevel{levels[index]});
        ImGui::PopID();
    }
}

std::string stated_words(const ParameterFact& fact, Level level) {
    if (!fact.stated) return "a setting";
    const ParameterRange range = (*fact.stated)[static_cast<std::size_t>(level)];
    return range.low == range.high ? fmt::format("{:.2f}", range.low)
                                   : fmt::format("{:.2f} to {:.2f}", range.low, range.high);
}

void draw_row(App& app, const ParameterFact& fact) {
    const Season& season = app.book->state().season;
    const auto now = parameter(season.parameters, fact.key);
    if (!now) return;
    const double usual = fact.by_level[static_cast<std::size_t>(season.level)];
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(fact.label.data(), fact.label.data() + fact.label.size());
    ImGui::TableNextColumn();
    ImGui::PushID(fact.key.data());
    static const ParameterFact* edited = nullptr;
    static double typed = 0.0;
    double value = edited == &fact ? typed : *now;
    ImGui::SetNextItemWidth(5.5F * app.look.unit);
    if (ImGui::InputDouble("##value", &value, 0.0, 0.0, "%.2f")) {
        edited = &fact;
        typed = value;
    }
    if (edited == &fact && ImGui::IsItemDeactivatedAfterEdit()) {
        app.actions.push_back(SetParameter{std::string(fact.key), typed});
        edited = nullptr;
    }
    ImGui::PopID();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(fact.unit.data(), fact.unit.data() + fact.unit.size());
    ImGui::TableNextColumn();
    quiet_text(app, *now == usual
                        ? stated_words(fact, season.level)
                        : fmt::format("{} (usual {:.2f})", stated_words(fact, season.level), usual));
    ImGui::TableNextColumn();
    wrapped_text(app, fact.source, app.look.colours.quiet);
}

} // namespace

void draw_parameters_page(App& app, float width, float height) {
    const Look& look = app.look;
    begin_sheet(app, "parameters", std::min(66.0F * look.unit, width), std::min(46.0F * look.unit, height));
    text_in(look.heading, look.colours.text, "Level of play, and the figures behind the model");
    wrapped_text(
        app,
        "Speeds and times are ranges or from memory, not laws: a verdict that would change inside its range "
        "says so. A change works every shot of the season out again; [undo] takes it back.",
        look.colours.quiet);
    ImGui::Spacing();
    draw_levels(app, ImGui::GetWindowPos().x + ImGui::GetWindowWidth() - look.unit);
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
            draw_row(app, fact);
        ImGui::EndTable();
    }
    if (app.progress) {
        ImGui::ProgressBar(static_cast<float>(*app.progress), {-1.0F, 1.2F * look.unit}, "");
    } else if (const Notice& notice = app.book->state().notice; !notice.text.empty()) {
        text_in(look.body, notice.trouble ? look.colours.trouble : look.colours.quiet, notice.text);
    }
    ImGui::End();
}

} // namespace ropeline
