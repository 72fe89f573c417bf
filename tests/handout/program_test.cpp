// The verbs reel, still, handout and answers as a coach calls them.
#include "reel/filmed_season.h"
#include "season/printed.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <fstream>

namespace ropeline {
namespace {

using test::FilmedSeason;

using sample::bytes_of;
using sample::is_one_line;
using sample::Printed;

Printed ropeline(const FilmedSeason& filmed, const std::string& arguments) {
    return sample::ropeline(filmed.folder, arguments);
}

} // namespace

TEST_CASE("reel, still and handout write what they are asked for and print where") {
    const FilmedSeason filmed;
    const Printed reel = ropeline(
        filmed, fmt::format("reel a.season -o reel.mp4 --shot {} --preset ultrafast --freeze 0.5 --half",
                            filmed.shot));
    CHECK(reel.status == 0);
    CHECK(reel.out == "reel.mp4\n");
    CHECK(std::filesystem::file_size(filmed.folder / "reel.mp4") > 10000);
    CHECK(bytes_of(filmed.folder / "reel.vtt").starts_with("WEBVTT"));
    const Printed still =
        ropeline(filmed, fmt::format("still a.season {} -o still.svg --moment pass", filmed.shot));
    CHECK(still.out == "still.svg\n");
    CHECK(bytes_of(filmed.folder / "still.svg").find("at the pass</title>") != std::string::npos);
    const Printed handout = ropeline(filmed, "handout a.season --goalie 'Ilse Tamm' -o page");
    CHECK(handout.out == "page/index.html\n");
    CHECK(bytes_of(filmed.folder / "page/index.html").find("Other Goalie") == std::string::npos);
}

TEST_CASE("answers are taken in and told; what is no answers file is one line") {
    const FilmedSeason filmed;
    const Id moment = filmed.play().moments.front().moment.id;
    std::ofstream(filmed.folder / "answers.json") << fmt::format(
        R"({{"ropeline_answers": 1, "answered_by": "Ilse", "answers": [{{"id": "0190b3a2-0000-7000-8000-000000000001", "moment": "{}", "read": "pass", "ice_m": [0, 1], "answered_at": "2026-11-25T14:03:00Z"}}]}})",
        moment);
    CHECK(ropeline(filmed, "answers a.season answers.json").out == "1 answer by Ilse taken in\n");
    CHECK(ropeline(filmed, "answers a.season answers.json").out ==
          "0 answers by Ilse taken in; 1 was there already\n");
    std::ofstream(filmed.folder / "text.json") << "no answers";
    for (const char* call : {"answers a.season text.json", "answers a.season none.json", "answers a.season .",
                             "answers none.season answers.json"}) {
        CAPTURE(call);
        const Printed refused = ropeline(filmed, call);
        CHECK(refused.status == 1);
        CHECK(is_one_line(refused.err));
    }
}

TEST_CASE("a wrong call is status 2 and one line that says what to do") {
    const FilmedSeason filmed;
    const auto before = std::distance(std::filesystem::directory_iterator(filmed.folder.path), {});
    for (const std::string& call :
         {std::string("reel a.season -o reel.avi"), std::string("reel a.season -o reel.mp4 --goalie Nobody"),
          std::string("reel a.season -o reel.mp4 --shot none"),
          std::string("still a.season none -o still.png"), "still a.season " + filmed.shot + " -o still.jpg",
          "still a.season " + filmed.shot + " -o still.png --moment rebound",
          std::string("handout a.season -o page")}) {
        CAPTURE(call);
        const Printed refused = ropeline(filmed, call);
        CHECK(refused.status == 2);
        CHECK(is_one_line(refused.err));
    }
    CHECK(ropeline(filmed, "handout a.season -o page").err ==
          "ropeline: this season has several goalies: say which with --goalie NAME (Ilse Tamm, Other "
          "Goalie)\n");
    CHECK(std::distance(std::filesystem::directory_iterator(filmed.folder.path), {}) == before);
}

} // namespace ropeline
