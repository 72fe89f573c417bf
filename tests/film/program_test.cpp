// `ropeline film` on the demo film, against `ffmpeg -f framemd5`; and what it says when there is no film.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <numeric>

#include "film/truth.h"
#include "short_demo.h"

namespace {

struct Visit {
    std::size_t frame = 0;
    double seconds = 0.0;
    std::string md5;
    double milliseconds = -1.0;
};

std::vector<Visit> visits(const std::string& arguments) {
    std::istringstream lines(clips::output_of(std::string(ROPELINE_PROGRAM) + " film " + arguments));
    std::vector<Visit> all;
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with('#')) continue;
        std::istringstream parts(line);
        Visit& visit = all.emplace_back();
        parts >> visit.frame >> visit.seconds >> visit.md5 >> visit.milliseconds;
    }
    return all;
}

std::vector<std::size_t> order_of(const std::vector<Visit>& visits) {
    std::vector<std::size_t> order;
    for (const Visit& visit : visits)
        order.push_back(visit.frame);
    return order;
}

std::size_t wrong(const std::vector<Visit>& visits, const std::vector<clips::TrueFrame>& truth) {
    return static_cast<std::size_t>(std::count_if(visits.begin(), visits.end(), [&](const Visit& visit) {
        return visit.frame >= truth.size() || visit.md5 != truth[visit.frame].md5 ||
               std::abs(visit.seconds - truth[visit.frame].seconds) > 1e-6;
    }));
}

void check_refused(const std::string& arguments, const std::string& words, int expected_status = 1) {
    CAPTURE(arguments);
    const std::string command =
        "timeout 2 " + std::string(ROPELINE_PROGRAM) + " film " + arguments + " 2>&1; echo $?";
    const std::string said = clips::output_of(command);
    CHECK_MESSAGE(said.find(words) != std::string::npos, said);
    CHECK(std::count(said.begin(), said.end(), '\n') == 2); // the line, and the status
    CHECK(said.ends_with("\n" + std::to_string(expected_status) + "\n"));
}

} // namespace

TEST_CASE("the demo film, forward, backward and shuffled, is what the ffmpeg command line says it is") {
    for (const char* name : {"end_zone.mp4", "bench_side.mp4"}) {
        CAPTURE(std::string(name));
        const std::string path = ropeline::test::short_demo() / name, film = clips::quoted(path);
        const auto truth = clips::truth_of(path);
        REQUIRE(truth.size() > 100);
        std::vector<std::size_t> forward(truth.size());
        std::iota(forward.begin(), forward.end(), std::size_t{0});

        const auto onward = visits(film + " --order forward --hash");
        CHECK(order_of(onward) == forward);
        CHECK(wrong(onward, truth) == 0);

        const auto back = visits(film + " --order backward --hash --timing");
        CHECK(order_of(back) == std::vector<std::size_t>(forward.rbegin(), forward.rend()));
        CHECK(wrong(back, truth) == 0);
        CHECK(
            std::all_of(back.begin(), back.end(), [](const Visit& one) { return one.milliseconds >= 0.0; }));

        const auto shuffled = visits(film + " --order shuffle --seed 9 --hash");
        std::vector<std::size_t> order = order_of(shuffled);
        CHECK(order != forward);
        CHECK(order_of(visits(film + " --order shuffle --seed 9 --count 5")) ==
              std::vector<std::size_t>(order.begin(), order.begin() + 5));
        std::sort(order.begin(), order.end());
        CHECK(order == forward);
        CHECK(wrong(shuffled, truth) == 0);
    }
}

TEST_CASE("what is no film is one line within two seconds") {
    const clips::Folder folder;
    std::ofstream(folder.file("empty.mp4")).flush();
    std::ofstream(folder.file("notes.mp4")) << "forecheck, backcheck, pay cheque\n";
    clips::ffmpeg("-f lavfi -i sine=d=1 -c:a aac " + clips::quoted(folder.file("sound.m4a")));
    check_refused(clips::quoted(folder.file("nowhere.mp4")), "there is no file");
    check_refused(clips::quoted(folder.path().string()), "is a folder");
    check_refused(clips::quoted(folder.file("empty.mp4")), "is empty");
    check_refused(clips::quoted(folder.file("notes.mp4")), "is not a film");
    check_refused(clips::quoted(folder.file("sound.m4a")), "has sound but no picture");
    check_refused(clips::quoted(folder.file("no\nsuch.mp4")), "no\\nsuch.mp4");
    check_refused("", "clip", 2);
}

TEST_CASE("the facts of a film stay in their lines whatever its name holds") {
    const clips::Folder folder;
    const std::string path = folder.file("first\nsecond.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=64x48:r=25:d=1 -c:v libx264 " + clips::quoted(path));
    std::istringstream facts(
        clips::output_of(std::string(ROPELINE_PROGRAM) + " film " + clips::quoted(path)));
    for (std::string line; std::getline(facts, line);)
        CHECK_MESSAGE(line.starts_with("# "), line);
}
