// What the films show against what the truth says: painted lines are where the homography puts them, decoded
// from the file.
#include "demo/dice.h"
#include "demo/filming.h"
#include "demo/made_demo.h"
#include "film/film_reader.h"
#include "rink/rule_book.h"
#include "short_demo.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>

using namespace ropeline;
using namespace ropeline::demo;
using Json = nlohmann::json;

namespace {

ImagePoint mapped(const Json& h, IcePoint p) {
    const auto at = [&](int i) { return h[i].get<double>(); };
    const double w = at(6) * p.x_m + at(7) * p.y_m + at(8);
    return {(at(0) * p.x_m + at(1) * p.y_m + at(2)) / w, (at(3) * p.x_m + at(4) * p.y_m + at(5)) / w};
}

double brightness(const Picture& picture, double x_px, double y_px) {
    const Picture::Plane& plane = picture.planes()[0];
    const double x = x_px - 0.5, y = y_px - 0.5;
    const int i = static_cast<int>(std::floor(x)), j = static_cast<int>(std::floor(y));
    const double u = x - i, v = y - j;
    const auto at = [&](int column, int row) {
        return static_cast<double>(plane.bytes[row * plane.stride_bytes + column]);
    };
    return (at(i, j) * (1 - u) + at(i + 1, j) * u) * (1 - v) +
           (at(i, j + 1) * (1 - u) + at(i + 1, j + 1) * u) * v;
}

/// Pixels from where the truth puts a dark line's middle to where the picture has it, along the picture's
/// direction across the line. Nothing when something stands there or it is not in the picture.
std::optional<double> off_by(const Picture& picture, const Json& h, IcePoint on_line, IcePoint across,
                             double width_m) {
    const ImagePoint middle = mapped(h, on_line), beside = mapped(h, on_line + across * 0.5);
    const double dx = beside.x_px - middle.x_px, dy = beside.y_px - middle.y_px, size = std::hypot(dx, dy);
    const double half_width = width_m * size, reach = half_width + 4.0;
    if (middle.x_px < 20 || middle.x_px > 1260 || middle.y_px < 20 || middle.y_px > 700) return std::nullopt;
    const auto shade = [&](double s) {
        return brightness(picture, middle.x_px + dx / size * s, middle.y_px + dy / size * s);
    };
    const double clear = (shade(-reach) + shade(reach)) / 2;
    if (clear < 170.0 || std::abs(shade(-reach) - shade(reach)) > 12.0)
        return std::nullopt; // not bare ice on both sides
    double sum = 0.0, moment = 0.0;
    for (double s = -reach; s <= reach; s += 0.1) {
        const double dark = std::max(0.0, clear - shade(s) - 6.0);
        sum += dark;
        moment += dark * s;
    }
    if (sum < 100.0) return std::nullopt;
    return moment / sum;
}

std::vector<double> misses(const std::string& stem) {
    const RuleBook& rules = rule_book(demo_rules);
    const Json truth = truth_of(stem);
    FilmReader reader((test::short_demo() / (stem + ".mp4")).string());
    std::vector<double> found;
    for (const int f : {0, 31, 74, 120, 179}) {
        const PicturePtr picture = reader.picture(FrameIndex{f});
        const Json& h = truth["frames"][static_cast<std::size_t>(f)]["image_from_ice"];
        const auto measure = [&](IcePoint at, IcePoint across, double width) {
            if (const auto miss = off_by(*picture, h, at, across, width)) found.push_back(*miss);
        };
        for (double x = -11.0; x <= 11.0; x += 1.0) {
            measure({x, rules.blue_line_centre.m}, {0.0, 1.0}, rules.wide_line.m);
            if (std::abs(x) > 4.0 && std::abs(x) < 10.0) measure({x, 0.0}, {0.0, 1.0}, rules.thin_line.m);
        }
        for (const double side : {-1.0, 1.0}) {
            const IcePoint spot{side * rules.spot_from_axis.m, rules.spot_from_goal_line.m};
            for (double turn = 0.05; turn < 6.28; turn += 0.25) {
                const IcePoint out{std::sin(turn), std::cos(turn)};
                measure(spot + out * (rules.circle_radius.m - rules.thin_line.m / 2), out, rules.thin_line.m);
            }
        }
    }
    return found;
}

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE("painted lines are where the truth says, within a pixel") {
    for (const std::string stem : {"end_zone", "bench_side"}) {
        CAPTURE(stem);
        std::vector<double> found = misses(stem);
        REQUIRE(found.size() > 60);
        std::vector<double> sizes;
        for (const double miss : found)
            sizes.push_back(std::abs(miss));
        std::ranges::sort(sizes);
        double mean = 0.0;
        for (const double miss : found)
            mean += miss / static_cast<double>(found.size());
        MESSAGE(stem << ": " << sizes.size() << " crossings, median " << sizes[sizes.size() / 2]
                     << " px, 95 % " << sizes[sizes.size() * 95 / 100] << " px");
        CHECK(sizes[sizes.size() / 2] < 0.3);
        CHECK(sizes[sizes.size() * 95 / 100] < 1.0);
        CHECK(std::abs(mean) < 0.25);
    }
}

TEST_CASE("films have the frames, the size and the rate they say, and pictures that lean on later ones") {
    for (const std::string stem : {"end_zone", "bench_side"}) {
        const Json truth = truth_of(stem);
        FilmReader reader((test::short_demo() / (stem + ".mp4")).string());
        CHECK(reader.frames().count() == truth["frame_count"].get<int>());
        CHECK(truth["frames"].size() == truth["frame_count"].get<std::size_t>());
        CHECK(reader.facts().shown_width_px == truth["width_px"].get<int>());
        CHECK(reader.facts().shown_height_px == truth["height_px"].get<int>());
        CHECK(reader.facts().average_rate_hz == doctest::Approx(truth["rate_hz"].get<double>()));
        CHECK(reader.facts().codec == "h264");
        CHECK(reader.facts().warnings.empty());
    }
}

TEST_CASE("the truth agrees with itself") {
    const Json still = truth_of("end_zone"), moving = truth_of("bench_side");
    CHECK(still["frames"][0]["image_from_ice"] == still["frames"][170]["image_from_ice"]);
    CHECK(moving["frames"][0]["image_from_ice"] != moving["frames"][170]["image_from_ice"]);
    CHECK(still["frames"][80]["goalie"] == moving["frames"][80]["goalie"]);
    const auto point = [](const Json& at) { return IcePoint{at[0].get<double>(), at[1].get<double>()}; };
    for (const Json& truth : {still, moving}) {
        REQUIRE(truth["chances"].size() >= 2);
        for (const Json& chance : truth["chances"]) {
            for (const Json& moment : chance["moments"]) {
                const Json& frame = truth["frames"][moment["frame"].get<std::size_t>()];
                CHECK(frame["frame"] == moment["frame"]);
                CHECK(moment["goalie"] == frame["goalie"]);
                for (const std::size_t i : {0, 1}) {
                    const ImagePoint at = mapped(frame["image_from_ice"], point(moment["skates"][i]));
                    CHECK(at.x_px == doctest::Approx(moment["skates_px"][i][0].get<double>()).epsilon(1e-4));
                    CHECK(at.y_px == doctest::Approx(moment["skates_px"][i][1].get<double>()).epsilon(1e-4));
                }
                for (const Json& threat : moment["threats"]) {
                    CHECK(threat["at"] == frame["players"][threat["player"].get<std::size_t>()]);
                }
            }
        }
    }
}

TEST_CASE("the puck shows where the truth says") {
    const Json truth = truth_of("end_zone");
    FilmReader reader((test::short_demo() / "end_zone.mp4").string());
    int seen = 0;
    for (int f = 18; f < 30; f += 2) { // the first pass, on open ice
        const PicturePtr picture = reader.picture(FrameIndex{f});
        const Json& at = truth["frames"][static_cast<std::size_t>(f)]["puck_px"];
        const double px = at[0].get<double>(), py = at[1].get<double>();
        double sum = 0.0, x = 0.0, y = 0.0;
        for (int j = -6; j <= 6; ++j) {
            for (int i = -6; i <= 6; ++i) {
                const double dark = std::max(0.0, 150.0 - brightness(*picture, px + i, py + j));
                sum += dark;
                x += dark * i;
                y += dark * j;
            }
        }
        if (sum < 100.0) continue;
        ++seen;
        CHECK(std::hypot(x / sum, y / sum) < 1.0);
    }
    CHECK(seen >= 4);
}

TEST_CASE("the same seed writes the same bytes") {
    demo::Play play = make_play(5, true);
    play.frames.resize(8);
    const auto folder = own_folder("same");
    for (const auto cameras : {end_zone_cameras, bench_side_cameras}) {
        for (const std::string name : {"a.mp4", "b.mp4"}) {
            write_film((folder / name).string(), play, cameras(play), 5, [](int, int) {});
        }
        CHECK(bytes_of(folder / "a.mp4") == bytes_of(folder / "b.mp4"));
        CHECK(bytes_of(folder / "a.mp4").size() > 10000);
    }
}
