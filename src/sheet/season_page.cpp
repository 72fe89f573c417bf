#include "sheet/season_page.h"

#include "sheet/counted.h"
#include "sheet/season_charts.h"
#include "sheet/season_words.h"
#include "sheet/svg.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <string_view>

namespace ropeline {
namespace {

constexpr std::string_view page_style = R"(
:root{color-scheme:light;--ink:#101c26;--quiet:#4c5e6e;--rule:#d5dde4}
*{box-sizing:border-box}
body{margin:0 auto;padding:20px 16px 40px;max-width:1180px;font:16px/1.5 Inter,'Helvetica Neue',Arial,sans-serif;color:var(--ink);background:#fff}
h1{font-size:1.5rem;line-height:1.2;margin:0}
h2{font-size:1.05rem;margin:0 0 6px}
.what{color:var(--quiet);margin:4px 0 14px}
.first{font-size:1.25rem;line-height:1.45;font-weight:600;border-left:5px solid #1460ba;padding:2px 0 2px 14px;margin:0 0 16px;max-width:62rem}
ul{margin:0 0 16px;padding-left:20px;max-width:62rem}li{margin:3px 0}
.charts{display:grid;grid-template-columns:1fr 1fr;gap:22px 28px}
figure{margin:0;min-width:0;break-inside:avoid}
svg{display:block;width:100%;height:auto}
.tables{columns:3 300px;column-gap:28px;margin-top:22px}
section{break-inside:avoid;margin:0 0 18px}
.wide{overflow-x:auto;margin-top:22px}
table{border-collapse:collapse;width:100%;font-size:.86rem}
th,td{text-align:right;padding:3px 6px;border-bottom:1px solid var(--rule);white-space:nowrap}
th:first-child,td:first-child,.name{text-align:left;white-space:normal}
.tables td:first-child{white-space:nowrap}
th{color:var(--quiet);font-weight:500}
.cautions{color:var(--quiet);font-size:.86rem;border-top:1px solid var(--rule);margin-top:20px;padding-top:10px}
.cautions p{margin:2px 0}
@media(max-width:760px){.charts{grid-template-columns:1fr}.first{font-size:1.1rem}}
@media screen and (max-width:760px){svg{width:calc(100% + 20px);margin:0 -10px}th,td{padding:3px 4px}}
@page{size:A4;margin:11mm}
@media print{
body{padding:0;max-width:none;font-size:8.4pt;line-height:1.32}
h1{font-size:14pt}h2{font-size:9pt;margin:0 0 2px}.what{margin:1px 0 5px}.first{font-size:10.6pt;margin-bottom:6px}
ul{margin-bottom:6px;max-width:none}.first{max-width:none}li{margin:0}
.charts{grid-template-columns:1fr 1fr;gap:8px 16px}
.second{break-before:page}
.tables{columns:3;column-gap:14px;margin-top:8px}section{margin-bottom:7px}.wide{margin-top:8px}
table{font-size:6.9pt}th,td{padding:0 2px}
.screen,tr.far{display:none}
.cautions{margin-top:6px;padding-top:3px;font-size:7pt}
})";

struct Page {
    std::string html;

    void add(std::string_view text) { html += text; }
    void paragraph(std::string_view tag, std::string_view kind, std::string_view text) {
        html += fmt::format("<{} class=\"{}\">{}</{}>\n", tag, kind, markup(text), tag);
    }
    void sentences(const std::vector<std::string>& all) {
        html += "<ul>\n";
        for (const std::string& one : all)
            html += fmt::format("<li>{}</li>\n", markup(one));
        html += "</ul>\n";
    }
    void chart(const Scene& scene, std::string_view of = {}) {
        html += fmt::format("<figure><h2>{}{}{}</h2>\n{}</figure>\n", markup(of), of.empty() ? "" : ": ",
                            markup(scene.title), write_svg(scene, 560.0));
    }
    void begin(std::string_view title) {
        add("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
            "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
            "'unsafe-inline'\">\n"
            "<meta name=\"robots\" content=\"noindex\">\n");
        add(fmt::format("<title>{}</title>\n<style>{}</style></head>\n<body>\n", markup(title), page_style));
    }
    void end() {
        add("<div class=\"cautions\">\n");
        for (const std::string& caution : cautions())
            paragraph("p", "", caution);
        add("</div>\n</body></html>\n");
    }
};

std::string interval_text(const std::optional<Interval>& interval) {
    if (!interval) return {};
    return fmt::format("{} to {}", percentage_text(interval->low), percentage_text(interval->high));
}

std::string share_cells(Share share) {
    if (share.of == 0) return "<td>0 of 0</td><td>-</td><td></td>";
    return fmt::format("<td>{} of {}</td><td>{}</td><td>{}</td>", share.hits, share.of,
                       percentage_text(static_cast<double>(share.hits) / share.of),
                       interval_text(wilson(share.hits, share.of)));
}

/// On paper there is room for the cuts that a coach changes a habit by.
bool is_for_paper(Cut cut) {
    switch (cut) {
    case Cut::depth:
    case Cut::verdict:
    case Cut::situation:
    case Cut::strength:
    case Cut::came:
    case Cut::distance:
    case Cut::sight:
    case Cut::period:
    case Cut::half:
        return true;
    case Cut::numbers:
    case Cut::angle:
    case Cut::released:
    case Cut::month:
    case Cut::game:
        return false;
    }
    return false;
}

void add_cut(Page& page, const CutGroups& cut) {
    const auto has_attempts = [](const Group& group) { return group.counts.unblocked > 0; };
    const bool said = std::ranges::any_of(
        cut.groups, [&](const Group& group) { return has_attempts(group) && group.label != "not known"; });
    if (!said || cut.cut == Cut::game) return; // game by game is a chart; the figures are in groups.csv
    page.add(fmt::format("<section{}><h2>By {}{}</h2><table><tr><th></th><th>goals of "
                         "attempts</th><th></th><th>95 %</th></tr>\n",
                         is_for_paper(cut.cut) ? "" : " class=\"screen\"", markup(label_of(cut.cut)),
                         cut.cut == Cut::depth ? ", shots and passes together" : ""));
    for (const Group& group : cut.groups)
        if (has_attempts(group))
            page.add(fmt::format("<tr><td>{}</td>{}</tr>\n", markup(group.label),
                                 share_cells(group.counts.goals_of_unblocked())));
    page.add("</table></section>\n");
}

void add_goalies(Page& page, const std::vector<GoalieLine>& goalies) {
    if (goalies.size() < 2) return;
    std::vector<GoalieLine> sorted = goalies;
    std::ranges::stable_sort(sorted, {},
                             [](const GoalieLine& line) { return line.shrunk ? line.shrunk->share : 1.0; });
    page.add("<div class=\"wide\"><h2>Goalies, fewest goals of attempts first, each drawn towards all as far "
             "as the shots are few</h2><table>"
             "<tr><th>goalie</th><th class=\"name\">team</th><th>goals of attempts</th><th></th><th>95 "
             "%</th><th>save % of shots on goal</th><th>95 %</th><th>drawn towards all</th>"
             "<th>95 %</th></tr>\n");
    constexpr std::size_t most_on_paper = 16;
    for (std::size_t i = 0; i < sorted.size(); ++i) {
        const GoalieLine& line = sorted[i];
        page.add(fmt::format("<tr{}><td>{}</td><td class=\"name\">{}</td>{}<td>{} of "
                             "{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
                             i < most_on_paper ? "" : " class=\"far\"", markup(line.goalie),
                             markup(line.team), share_cells(line.counts.goals_of_unblocked()),
                             percentage_text(line.counts.save_percentage()), line.counts.on_goal,
                             interval_text(line.counts.interval()),
                             line.shrunk ? percentage_text(line.shrunk->share) : "-",
                             line.shrunk ? interval_text(line.shrunk->interval) : ""));
    }
    page.add("</table></div>\n");
}

std::string what_words(const Season& season, std::span<const ShotFact> facts, const SeasonTally& tally,
                       const std::string& asked) {
    std::string words = season.league.empty() ? std::string{} : season.league + " · ";
    words += asked.empty() ? std::string{} : asked + " · ";
    words += fmt::format("{} logged in {} game{}", facts.size(), tally.games, tally.games == 1 ? "" : "s");
    if (tally.games > 0) {
        const std::string &from = tally.over_games.games.front().date,
                          &to = tally.over_games.games.back().date;
        if (!from.empty()) words += from == to ? " · " + from : fmt::format(" · {} to {}", from, to);
    }
    return words;
}

} // namespace

std::string season_page(const Season& season, std::span<const ShotFact> facts, const std::string& asked,
                        const std::optional<ReviewAgreement>& agreement) {
    const SeasonTally tally = tally_season(facts);
    Page page;
    page.begin(season.name);
    page.paragraph("h1", "name", season.name);
    page.paragraph("p", "what", what_words(season, facts, tally, asked));
    page.paragraph("p", "first", first_sentence(tally));
    page.sentences(further_sentences(tally));
    page.add("<div class=\"charts\">\n");
    for (const NamedChart& chart : season_charts(facts, tally, season, agreement)) {
        if (chart.name == "given_away") // on the second sheet of paper
            page.add("</div>\n<div class=\"charts second\" style=\"margin-top:22px\">\n");
        page.chart(chart.scene);
    }
    page.add("</div>\n");
    if (agreement) page.sentences(agreement_sentences(*agreement));
    add_goalies(page, tally.goalies);
    page.add("<div class=\"tables\">\n");
    for (const CutGroups& cut : tally.cuts)
        add_cut(page, cut);
    page.add("</div>\n");
    page.end();
    return page.html;
}

std::string side_by_side_page(const Season& season, const std::string& asked,
                              std::span<const std::string> between, const PageSide& one,
                              const PageSide& other, std::span<const NamedChart> shared) {
    Page page;
    const std::string title = fmt::format("{} beside {}", one.name, other.name);
    page.begin(title);
    page.paragraph("h1", "name", title);
    page.paragraph("p", "what", asked.empty() ? season.name : fmt::format("{} · {}", season.name, asked));
    if (!between.empty()) {
        page.paragraph("p", "first", between.front());
        page.sentences({between.begin() + 1, between.end()});
    }
    page.add("<div class=\"charts\">\n");
    for (const NamedChart& chart : shared)
        page.chart(chart.scene);
    page.add("</div>\n<div class=\"charts\">\n");
    for (const PageSide* side : {&one, &other}) {
        page.add("<section>");
        page.paragraph("h2", "name", side->name);
        page.paragraph("p", "what",
                       fmt::format("{} logged in {}", side->shots, counted(side->games, "game")));
        page.paragraph("p", "first", side->first);
        page.sentences(side->further);
        page.add("</section>\n");
    }
    for (const NamedChart& chart : one.charts) {
        const auto beside = std::ranges::find(other.charts, chart.name, &NamedChart::name);
        page.chart(chart.scene, one.name);
        if (beside != other.charts.end())
            page.chart(beside->scene, other.name);
        else
            page.add("<figure></figure>\n");
    }
    page.add("</div>\n");
    page.end();
    return page.html;
}

} // namespace ropeline
