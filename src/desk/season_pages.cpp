#include "desk/season_pages.h"

#include "reel/scene_picture.h"
#include "season/whole_file.h"
#include "sheet/csv.h"
#include "sheet/season_page.h"

#include <fmt/core.h>

#include <array>

namespace ropeline {

std::string_view label_of(SeasonPaper paper) {
    constexpr std::array<std::string_view, 3> labels{"the page, to print or to send",
                                                     "the charts, as SVG and PNG", "the tables, as CSV"};
    return labels.at(static_cast<std::size_t>(paper));
}

std::filesystem::path papers_folder(const std::filesystem::path& season_file, const std::string& asked) {
    std::string name = season_file.stem().string() + " summary";
    if (!asked.empty()) name += ", " + asked;
    for (char& c : name)
        if (std::string_view{"/\\:*?\"<>|"}.find(c) != std::string_view::npos ||
            static_cast<unsigned char>(c) < 0x20)
            c = '-';
    constexpr std::size_t longest = 200; // bytes of a name, of which most file systems take 255
    if (name.size() > longest) {
        name.resize(longest);
        while (!name.empty() && (static_cast<unsigned char>(name.back()) & 0xC0U) == 0x80U)
            name.pop_back(); // not in the middle of a letter
        if (!name.empty() && static_cast<unsigned char>(name.back()) >= 0xC0U) name.pop_back();
    }
    return std::filesystem::absolute(season_file).parent_path() / name;
}

std::string write_papers(SeasonPaper paper, const std::filesystem::path& folder, const SharedFacts& facts,
                         const Season& season, const FactFilter& only, const std::string& asked) {
    const std::vector<ShotFact> shown = filtered(facts.rows(), only);
    switch (paper) {
    case SeasonPaper::page: {
        const auto page = folder / "season.html";
        const char* warning = only.goals ? " (all went in: no share of goals here says anything)" : "";
        write_whole_file(page, season_page(season, shown, asked + warning));
        return fmt::format("The page is {}", page.string());
    }
    case SeasonPaper::charts:
        write_chart_files(folder, season_charts(shown, tally_season(shown), season));
        return fmt::format("The charts are in {}", folder.string());
    case SeasonPaper::tables:
        write_csv_files(folder, season, shown);
        return fmt::format("The tables are in {}", folder.string());
    }
    return {};
}

} // namespace ropeline
