#include "handout/handout.h"
#include "handout/ice_svg.h"
#include "handout/page_text.h"

#include "season/dates.h"
#include "sheet/shot_words.h"
#include "sheet/text.h"
#include "tally/band_table.h"

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <iterator>
#include <utility>

namespace ropeline {
namespace {

using nlohmann::ordered_json;

struct Html {
    std::string text;
    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        fmt::format_to(std::back_inserter(text), format, std::forward<Values>(values)...);
    }
};

/// JSON inside a script element: nothing in it can end the element or begin another.
std::string script_safe(const ordered_json& data) {
    std::string safe;
    for (const char c : data.dump(-1, ' ', true, ordered_json::error_handler_t::replace)) {
        switch (c) {
        case '<':
            safe += "\\u003c";
            break;
        case '>':
            safe += "\\u003e";
            break;
        case '&':
            safe += "\\u0026";
            break;
        default:
            safe += c;
        }
    }
    return safe;
}

double short_number(double value) {
    return std::round(value * 1000.0) / 1000.0;
}

/// What the page's script has to know of one decision.
ordered_json data_of(const ShownPlay& play) {
    ordered_json data;
    const ShownMoment* asked = asked_moment(play);
    if (!asked) return data;
    data["moment"] = asked->moment.id;
    data["came"] = play.shot.came == NextAction::pass   ? ordered_json("pass")
                   : play.shot.came == NextAction::shot ? ordered_json("shot")
                                                        : ordered_json();
    for (const Mark& mark : asked->moment.marks)
        if (mark.kind == MarkKind::puck && mark.ice)
            data["puck"] = {short_number(mark.ice->x_m), short_number(mark.ice->y_m)};
    if (asked->decision->advice) data["worth"] = play.parameters.worth;
    if (const auto grid = left_grid(play, *asked)) {
        ordered_json left = ordered_json::array();
        for (const double share : grid->left)
            left.push_back(short_number(share));
        data["left"] = {{"left", grid->left_m},     {"near", grid->near_m},
                        {"step", grid->step_m},     {"across", grid->across},
                        {"out", grid->out},         {"best", short_number(grid->best)},
                        {"shares", std::move(left)}};
    }
    return data;
}

void add_season(Html& page, std::span<const ShotFact> facts) {
    const auto tables = band_tables(facts);
    if (tables.empty()) return;
    const GoalieTable& table = tables.front();
    page.text +=
        "<section><h2>The season in short</h2><div class=\"wide\"><table><caption>Save percentage by how far "
        "out</caption><thead><tr>"
        "<th scope=\"col\">Depth</th><th scope=\"col\">On goal</th><th scope=\"col\">Goals</th><th "
        "scope=\"col\">Saved</th>"
        "<th scope=\"col\">95 % interval</th></tr></thead><tbody>";
    const auto row = [&](std::string_view name, const Counts& counts) {
        if (counts.on_goal == 0) return;
        const auto interval = counts.interval();
        page.add("<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td><td>{}</td><td>{} to {}</td></tr>", name,
                 counts.on_goal, counts.goals, percentage_text(counts.save_percentage()),
                 percentage_text(interval->low), percentage_text(interval->high));
    };
    for (std::size_t band = 0; band < 4; ++band)
        row(label_of(static_cast<Band>(band)), table.by_band[band]);
    row("all", table.total);
    page.text += "</tbody></table></div>";
    const std::string verdicts = verdict_words(table.verdicts.reviewed);
    if (!verdicts.empty()) page.add("<p>Depth: {}.</p>", verdicts);
    if (const int calls = table.calls.read_it + table.calls.misread_it; calls > 0)
        page.add("<p>Read it {} of {} times.</p>", table.calls.read_it, calls);
    page.text += "</section>";
}

std::string came_words(const Shot& shot) {
    std::string words;
    if (shot.came) words = fmt::format("What came: {}.", label_of(*shot.came));
    if (shot.outcome)
        words += fmt::format("{}It ended in: {}.", words.empty() ? "" : " ", label_of(*shot.outcome));
    return words;
}

void add_video(Html& page, const std::string& clip, std::string_view label) {
    page.add("<video controls playsinline preload=\"metadata\" src=\"{}\" aria-label=\"{}\"></video>", clip,
             markup(label));
}

void add_side(Html& page, const ShownMoment& asked) {
    page.add(
        "<div class=\"side\"><figure class=\"plan-box\" tabindex=\"0\">{}<figcaption>The ice from above, "
        "the net below. Circle: puck; squares: receivers<span class=\"answer\">; orange: ropes and goalie; "
        "blue: the advised stretch</span>.</figcaption></figure>",
        plan_svg(asked, plan_box(asked), "Plan: puck and receivers"));
    if (const std::string eye = puck_eye_svg(asked); !eye.empty())
        page.add("<figure class=\"answer\">{}<figcaption>The net as the puck sees it: {:.0f} % of it "
                 "open; dark is what the goalie hides.</figcaption></figure>",
                 eye, 100.0 * asked.eye->share);
    page.text += "</div>";
}

void add_answer(Html& page, const ShownPlay& play, const ShownMoment* asked, std::size_t index, bool notes) {
    page.text += "<div class=\"then\" tabindex=\"-1\">";
    if (asked) page.text += "<p class=\"score\" aria-live=\"polite\"></p>";
    page.add("<p>{}</p>", markup(came_words(play.shot)));
    if (asked)
        page.add("<p class=\"headline\">{}</p><p>Advised: {}</p>", markup(asked->headline),
                 markup(asked->advice.empty() ? "on the post." : asked->advice));
    if (notes && !play.shot.note.empty()) page.add("<p class=\"note\">{}</p>", markup(play.shot.note));
    if (asked) {
        page.text += "<details><summary>What it rests on</summary><ul>";
        for (const std::string& figure : asked->figures)
            page.add("<li>{}</li>", markup(figure));
        page.text += "</ul></details>";
    }
    add_video(page, clip_name(index, true),
              "How it went on, stopped with the picture drawn on, then at half speed");
    page.text += "</div>";
}

/// A pass and a shot in the same words: which of them comes is what the page asks.
std::string stops_before(MomentKind kind) {
    if (kind == MomentKind::pass || kind == MomentKind::release) return "the puck leaves the stick";
    return fmt::format("the {}", label_of(kind));
}

void add_shot(Html& page, const ShownPlay& play, std::size_t index, bool notes) {
    const ShownMoment* asked = asked_moment(play);
    const std::string name = fmt::format("{}. {}", index + 1, name_of(play));
    page.add("<article id=\"shot-{0}\" data-shot=\"{0}\"><h3>{1}</h3><p class=\"game\">{2}</p>", index,
             markup(name), markup(game_of(play)));
    add_video(page, clip_name(index, false), name + ": the run-up");
    if (asked) {
        page.add("<div class=\"call\"><p class=\"ask\">It stops just before {}. What comes?</p><div "
                 "class=\"reads\">"
                 "<button type=\"button\" data-read=\"shot\">Shot</button><button type=\"button\" "
                 "data-read=\"pass\">Pass</button></div><p class=\"place\" hidden>Where do you stand? Tap "
                 "the ice, or "
                 "move the cross with the arrow keys and press Enter.</p></div>",
                 stops_before(asked->moment.kind));
        add_side(page, *asked);
        page.text +=
            "<p class=\"reveal\"><button type=\"button\" data-show>Show it without a call</button></p>";
    }
    add_answer(page, play, asked, index, notes);
    page.text += "</article>";
}

constexpr std::string_view cautions =
    "<section class=\"cautions\"><h2>Before you pass it on</h2><ul>"
    "<li>People are on this film, perhaps minors. Show it and pass it on only where they, or their parents, "
    "and the club have agreed. "
    "Keep this folder to yourself; delete it when you are done.</li>"
    "<li>On the ice: full gear, a certified coach, the rules of your association. No drill from this page "
    "alone.</li>"
    "<li>The figures rest on clicks on a film and on a model of where the net is open. They judge a depth, "
    "never a goalie. Talk them over with your coach.</li>"
    "</ul></section>";

void add_head(Html& page, const HandoutOptions& options) {
    page.add("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
             "content=\"width=device-width, initial-scale=1\"><meta name=\"robots\" content=\"noindex\">"
             "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
             "'unsafe-inline'; script-src "
             "'unsafe-inline'; img-src data:; media-src 'self' file:\">"
             "<link rel=\"icon\" href=\"data:,\"><title>{0}: film to "
             "study</title><style>{1}</style></head><body><header><h1>{0}</h1>"
             "<p>{2}{3}{4} · made {5}</p></header><main>",
             markup(options.goalie.name), page_style(), markup(options.season),
             options.league.empty() ? "" : " · ", markup(options.league), today());
}

} // namespace

std::string handout_page(const std::vector<ShownPlay>& plays, std::span<const ShotFact> facts,
                         const HandoutOptions& options) {
    Html page;
    add_head(page, options);
    page.add("<section class=\"how\"><p>{} from your own games. Play a clip: it stops just before the puck "
             "leaves the stick. Call what comes, tap where you would stand, then see the "
             "answer.</p><p><label>I am <input id=\"who\" "
             "maxlength=\"200\" value=\"{}\" "
             "autocomplete=\"off\"></label></p></section>",
             plays.size() == 1 ? "One shot" : fmt::format("{} shots", plays.size()),
             markup(options.goalie.name));
    page.text += "<section class=\"shots\"><h2>Shots</h2>";
    for (std::size_t index = 0; index < plays.size(); ++index)
        add_shot(page, plays[index], index, options.notes);
    page.text +=
        "</section><section class=\"save\"><h2>Your answers</h2><p id=\"count\" "
        "aria-live=\"polite\"></p><p><button "
        "type=\"button\" id=\"save\">Save my answers</button> Give the file to your coach.</p></section>";
    add_season(page, facts);
    page.text += cautions;
    ordered_json data{{"name", options.goalie.name}, {"shots", ordered_json::array()}};
    for (const ShownPlay& play : plays)
        data["shots"].push_back(data_of(play));
    page.add(
        "</main><script type=\"application/json\" id=\"data\">{}</script><script>{}</script></body></html>\n",
        script_safe(data), page_script());
    return page.text;
}

} // namespace ropeline
