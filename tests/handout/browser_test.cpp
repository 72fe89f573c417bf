// The handout in a browser: Debian's Chromium without a window, driven by a script at the page's end. Where no Chromium is
// installed that is said, and nothing is checked.
#include "handout/made_handout.h"

#include "film/clips.h"
#include "intake/goalie_answers.h"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>

namespace ropeline {
namespace {

using test::FilmedSeason;

bool has_chromium() {
    static const bool found = std::system("command -v chromium >/dev/null 2>&1") == 0;
    if (!found) MESSAGE("skipped: no Chromium here (Debian: apt-get install chromium)");
    return found;
}

/// A page shown at a size, until it says "done" in its title: its text as it is then, and what it told the console.
struct Shown {
    std::string page, console;
};
Shown shown(const sample::Folder& folder, const std::filesystem::path& page, int width, int height,
            const std::string& more = "--dump-dom") {
    const std::string out = (folder / "page.txt").string(), err = (folder / "console.txt").string();
    const std::string command =
        fmt::format("timeout -k 5 120 chromium --headless=new --no-sandbox --disable-gpu --hide-scrollbars "
                    "--enable-logging=stderr --v=0 "
                    "--host-resolver-rules='MAP * ~NOTFOUND' --autoplay-policy=no-user-gesture-required "
                    "--user-data-dir={} --window-size={},{} "
                    "--virtual-time-budget=20000 {} {} > {} 2> {}",
                    clips::quoted((folder / "profile").string()), width, height, more,
                    clips::quoted("file://" + page.string()), clips::quoted(out), clips::quoted(err));
    const int ended = std::system(command.c_str());
    CHECK(ended == 0);
    std::ifstream text(out), said(err);
    Shown result{{std::istreambuf_iterator<char>(text), {}}, {}};
    for (std::string line; std::getline(said, line);)
        if (line.find("CONSOLE") != std::string::npos) result.console += line + "\n";
    return result;
}

/// The page with a script behind its own.
std::filesystem::path driven(const std::filesystem::path& folder, const std::string& script) {
    std::ifstream in(folder / "index.html");
    std::string page{std::istreambuf_iterator<char>(in), {}};
    page.insert(page.rfind("</body>"), "<pre id=\"told\"></pre><script>" + script + "</script>");
    std::ofstream(folder / "driven.html") << page;
    return folder / "driven.html";
}

nlohmann::json told(const std::string& page) {
    const std::size_t begin = page.find("<pre id=\"told\">") + 15;
    return nlohmann::json::parse(page.substr(begin, page.find("</pre>", begin) - begin), nullptr, false);
}

constexpr const char* a_call = R"js(
const article = document.querySelector("article"), box = article.querySelector(".plan-box"), plan = box.querySelector("svg");
const shows = element => getComputedStyle(element).display !== "none" && element.getClientRects().length > 0;
const said = { width: innerWidth, wide: document.documentElement.scrollWidth, before: shows(article.querySelector(".then")), lines: shows(article.querySelector("g.answer")) };
const video = article.querySelector("video");
const finish = () => {
  said.after = shows(article.querySelector(".then"));
  said.score = article.querySelector(".score").textContent;
  said.count = document.getElementById("count").textContent;
  said.kept = answers;
  said.outside = performance.getEntriesByType("resource").map(entry => entry.name).filter(name => !name.startsWith("file:"));
  document.getElementById("told").textContent = JSON.stringify(said);
};
)js";

} // namespace

TEST_CASE("in a browser the page plays a clip, takes a call by touch and by keyboard, and tells nothing "
          "before it") {
    if (!has_chromium()) return;
    const FilmedSeason filmed({.goalie = "<img src=x onerror=alert(1)>"});
    const auto folder = filmed.folder / "handout";
    make_handout({filmed.play()}, test::facts_of(filmed), folder, test::handout_options(filmed));
    const std::string by_touch = std::string(a_call) + R"js(
      video.muted = true;
      video.play().then(() => { said.played = true; }, error => { said.played = String(error); }).then(() => {
        article.querySelector("[data-read=pass]").click();
        const at = plan.getBoundingClientRect();
        plan.dispatchEvent(new MouseEvent("click", { bubbles: true, clientX: at.left + at.width / 2, clientY: at.top + .8 * at.height }));
        finish();
      });)js";
    const std::string by_keys = std::string(a_call) + R"js(
      article.querySelector("[data-read=shot]").focus();
      document.activeElement.click();
      said.focus = document.activeElement === box;
      for (const key of ["ArrowUp", "ArrowUp", "ArrowLeft", "Enter"]) box.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
      finish();)js";
    const Shown phone = shown(filmed.folder, driven(folder, by_touch), 390, 844);
    CHECK(phone.console.empty());
    const auto touched = told(phone.page);
    REQUIRE(touched.is_object());
    CHECK(touched["played"] == true);
    CHECK(touched["wide"] <= touched["width"]); // nothing to scroll sideways
    CHECK(touched["before"] == false);
    CHECK(touched["lines"] == false);
    CHECK(touched["after"] == true);
    CHECK(touched["score"].get<std::string>().starts_with("Read it: pass."));
    CHECK(touched["count"] == "1 of 1 called.");
    CHECK(touched["outside"].empty());
    std::filesystem::remove_all(filmed.folder / "profile");
    const Shown laptop = shown(filmed.folder, driven(folder, by_keys), 1440, 900);
    CHECK(laptop.console.empty());
    const auto typed = told(laptop.page);
    REQUIRE(typed.is_object());
    CHECK(typed["focus"] == true);
    CHECK(typed["score"].get<std::string>().starts_with("Misread it: you called shot, pass came."));
    CHECK(typed["kept"][0]["ice_m"] == nlohmann::json{-0.1, 1.2});
    CHECK(typed["outside"].empty());

    // What the page keeps is what the season takes in.
    SeasonFile file = SeasonFile::open(filmed.season());
    const nlohmann::json saved{{"ropeline_answers", 1},
                               {"answered_by", "Ilse"},
                               {"answers", {touched["kept"][0], typed["kept"][0]}}};
    CHECK(take_answers(file, read_answers(saved.dump())).taken == 2);
}

TEST_CASE("a browser prints the page") {
    if (!has_chromium()) return;
    const FilmedSeason filmed;
    const auto folder = filmed.folder / "handout";
    make_handout({filmed.play()}, test::facts_of(filmed), folder, test::handout_options(filmed));
    const auto pdf = filmed.folder / "page.pdf";
    shown(filmed.folder, folder / "index.html", 1440, 900, "--print-to-pdf=" + clips::quoted(pdf.string()));
    std::ifstream in(pdf, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    CHECK(bytes.starts_with("%PDF-"));
    CHECK(bytes.size() > 10000);
}

} // namespace ropeline
