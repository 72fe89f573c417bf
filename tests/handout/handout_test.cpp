#include "handout/made_handout.h"

#include "film/film_reader.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <fstream>
#include <set>

namespace ropeline {
namespace {

using test::FilmedSeason;

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::set<std::string> files_in(const std::filesystem::path& folder) {
    std::set<std::string> names;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
        if (entry.is_regular_file()) names.insert(entry.path().lexically_relative(folder).string());
    return names;
}

} // namespace

TEST_CASE(
    "a handout is a page and two clips a shot; the first clip ends before the moment that is asked about") {
    const FilmedSeason filmed;
    const auto folder = filmed.folder / "handout";
    CHECK(make_handout({filmed.play()}, test::facts_of(filmed), folder, test::handout_options(filmed)) ==
          ReelEnd::made);
    CHECK(files_in(folder) ==
          std::set<std::string>{"clips/001-answer.mp4", "clips/001-call.mp4", "index.html"});
    FilmReader call((folder / "clips/001-call.mp4").string()),
        answer((folder / "clips/001-answer.mp4").string());
    const auto grey = [](FilmReader& film, std::int64_t frame) {
        const PicturePtr picture = film.picture(FrameIndex{frame});
        const auto& luma = picture->planes()[0];
        return int{luma.bytes[static_cast<std::ptrdiff_t>(luma.height / 2) * luma.stride_bytes + 2]};
    };
    // A pass came, so the pass in frame 30 is asked about: the clip ends 0.1 s before it, three frames.
    CHECK(std::abs(grey(call, call.frames().count() - 1) - test::grey_of(test::pass_frame - 3)) <= 2);
    CHECK(std::abs(grey(answer, 0) - test::grey_of(test::pass_frame)) <= 2);
}

TEST_CASE(
    "a handout names nobody but its goalie, holds no path of this machine, and notes only where asked for") {
    const FilmedSeason filmed({.note = "Number 9, Aino Verlaine, was free"});
    const auto folder = filmed.folder / "handout";
    auto options = test::handout_options(filmed);
    make_handout({filmed.play()}, test::facts_of(filmed), folder, options);
    for (const std::string& name : files_in(folder)) {
        CAPTURE(name);
        const std::string bytes = bytes_of(folder / name);
        CHECK(bytes.find(filmed.folder.path.string()) == std::string::npos);
        CHECK(bytes.find("film.mp4") == std::string::npos);
        CHECK(bytes.find("Other Goalie") == std::string::npos);
        CHECK(bytes.find("Verlaine") == std::string::npos);
    }
    options.notes = true;
    CHECK(handout_page({filmed.play()}, test::facts_of(filmed), options).find("Aino Verlaine") !=
          std::string::npos);
}

TEST_CASE("names of any kind come out as text, whole") {
    const std::string image = "<img src=x onerror=alert(1)>", shell = "\"; rm -rf", long_name(500, 'n');
    const FilmedSeason filmed({.season = image,
                               .goalie = image + "</script>" + shell,
                               .home = long_name,
                               .away = shell,
                               .note = "'" + image});
    auto options = test::handout_options(filmed);
    options.notes = true;
    const std::string page = handout_page({filmed.play()}, test::facts_of(filmed), options);
    CHECK(page.find("<img") == std::string::npos);
    CHECK(page.find("&lt;img src=x onerror=alert(1)&gt;&lt;/script&gt;&quot;; rm -rf") != std::string::npos);
    CHECK(page.find(long_name) != std::string::npos);
    CHECK(page.find("http:") == page.find("http://www.w3.org")); // no address but SVG's own name, if any
    CHECK(page.find("https:") == std::string::npos);
    std::size_t scripts = 0;
    for (std::size_t at = page.find("</script>"); at != std::string::npos;
         at = page.find("</script>", at + 1))
        ++scripts;
    CHECK(scripts == 2);
    const std::size_t begin = page.find("id=\"data\">") + 10;
    const auto data = nlohmann::json::parse(page.substr(begin, page.find("</script>", begin) - begin));
    CHECK(data["name"] == image + "</script>" + shell);
    CHECK(data["shots"][0]["came"] == "pass");
}

TEST_CASE("before the call a page asks about a pass and about a shot in the same words") {
    const FilmedSeason filmed;
    const ShownPlay pass = filmed.play();
    ShownPlay shot = pass;
    shot.shot.came = NextAction::shot;
    REQUIRE(asked_moment(pass)->moment.kind == MomentKind::pass);
    REQUIRE(asked_moment(shot)->moment.kind == MomentKind::release);
    const auto question = [&](const ShownPlay& play) {
        const std::string page = handout_page({play}, {}, test::handout_options(filmed));
        const std::size_t begin = page.find("<div class=\"call\">");
        return page.substr(begin, page.find("<div class=\"side\">") - begin);
    };
    CHECK(question(pass).find("What comes?") != std::string::npos);
    CHECK(question(pass) == question(shot));
}

TEST_CASE("what the page scores a place with is the model's own net left") {
    const FilmedSeason filmed;
    const ShownPlay play = filmed.play();
    const ShownMoment* asked = asked_moment(play);
    REQUIRE(asked != nullptr);
    CHECK(asked->moment.kind == MomentKind::pass);
    const auto grid = left_grid(play, *asked);
    REQUIRE(grid);
    CHECK(grid->left.size() == static_cast<std::size_t>(grid->across * grid->out));
    CHECK(grid->best == doctest::Approx(asked->decision->advice->left_best));
    CHECK(*std::ranges::min_element(grid->left) > grid->best - 0.05);
    // The goalie stood at (-0.6, 1.9): between the places around him.
    const int column = static_cast<int>((-0.6 - grid->left_m) / grid->step_m),
              row = static_cast<int>((1.9 - grid->near_m) / grid->step_m);
    double least = 1.0, most = 0.0;
    for (const int at : {row * grid->across + column, row * grid->across + column + 1,
                         (row + 1) * grid->across + column, (row + 1) * grid->across + column + 1}) {
        least = std::min(least, grid->left[static_cast<std::size_t>(at)]);
        most = std::max(most, grid->left[static_cast<std::size_t>(at)]);
    }
    CHECK(asked->decision->left > least - 0.02);
    CHECK(asked->decision->left < most + 0.02);
}

TEST_CASE(
    "a handout that is stopped is gone again, and a folder with something in it is refused and untouched") {
    const FilmedSeason filmed;
    const auto folder = filmed.folder / "handout";
    int told = 0;
    CHECK(make_handout({filmed.play()}, {}, folder, test::handout_options(filmed),
                       [&](double share, double) { return ++told, share < 0.7; }) == ReelEnd::stopped);
    CHECK(told > 5);
    CHECK_FALSE(std::filesystem::exists(folder));
    std::filesystem::create_directory(folder);
    std::ofstream(folder / "mine.txt") << "mine";
    CHECK_THROWS_AS(make_handout({filmed.play()}, {}, folder, test::handout_options(filmed)), ReelError);
    CHECK(files_in(folder) == std::set<std::string>{"mine.txt"});
}

} // namespace ropeline
