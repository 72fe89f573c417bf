// The overlay against what lies under it, to usual eyes and to the three kinds of colour-blind ones.
#include "sheet/overlay_ink.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

using namespace ropeline;

namespace {

using Three = std::array<double, 3>;
using Matrix = std::array<Three, 3>;

Three times(const Matrix& matrix, const Three& v) {
    Three out{};
    for (std::size_t row = 0; row < 3; ++row)
        out[row] = matrix[row][0] * v[0] + matrix[row][1] * v[1] + matrix[row][2] * v[2];
    return out;
}

/// IEC 61966-2-1, linear light.
Three linear(InkColour colour) {
    const auto one = [](std::uint8_t value) {
        const double v = value / 255.0;
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return {one(colour.red), one(colour.green), one(colour.blue)};
}

struct Eye {
    const char* name;
    Matrix seen; ///< of linear light
};

/// Source  Machado, Oliveira, Fernandes, "A physiologically-based model for simulation of color vision deficiency", IEEE
///         Transactions on Visualization and Computer Graphics 15(6), 2009, table 1, severity 1.0 (from memory).
constexpr std::array<Eye, 4> eyes{{
    {"usual", {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}},
    {"protanopia",
     {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}}},
    {"deuteranopia",
     {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}}},
    {"tritanopia",
     {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}}},
}};

/// CIE 1976 L*a*b* under D65, of the colour as that eye sees it.
Three lab(InkColour colour, const Eye& eye) {
    Three seen = times(eye.seen, linear(colour));
    for (double& one : seen)
        one = std::clamp(one, 0.0, 1.0);
    constexpr Matrix xyz_from_srgb{{{0.4124564, 0.3575761, 0.1804375},
                                    {0.2126729, 0.7151522, 0.0721750},
                                    {0.0193339, 0.1191920, 0.9503041}}};
    const Three xyz = times(xyz_from_srgb, seen);
    const auto f = [](double t) {
        return t > 216.0 / 24389.0 ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
    };
    const double x = f(xyz[0] / 0.95047), y = f(xyz[1]), z = f(xyz[2] / 1.08883);
    return {116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)};
}

double degrees(double radians) {
    return radians * 180.0 / std::numbers::pi;
}
double radians(double degrees) {
    return degrees * std::numbers::pi / 180.0;
}

/// Source  Sharma, Wu, Dalal, "The CIEDE2000 color-difference formula", Color Research and Application 30(1), 2005.
double ciede2000(const Three& one, const Three& other) {
    const double c_mean = 0.5 * (std::hypot(one[1], one[2]) + std::hypot(other[1], other[2]));
    const auto pull = [](double c) {
        return std::sqrt(std::pow(c, 7) / (std::pow(c, 7) + std::pow(25.0, 7)));
    };
    const double g = 0.5 * (1.0 - pull(c_mean));
    const double a1 = (1.0 + g) * one[1], a2 = (1.0 + g) * other[1];
    const double c1 = std::hypot(a1, one[2]), c2 = std::hypot(a2, other[2]);
    const auto hue = [](double a, double b) {
        const double turn = a == 0.0 && b == 0.0 ? 0.0 : degrees(std::atan2(b, a));
        return turn < 0.0 ? turn + 360.0 : turn;
    };
    const double h1 = hue(a1, one[2]), h2 = hue(a2, other[2]);
    double dh = h2 - h1, h_mean = 0.5 * (h1 + h2);
    if (c1 * c2 == 0.0) {
        dh = 0.0;
        h_mean = h1 + h2;
    } else if (std::abs(h1 - h2) > 180.0) {
        dh += dh > 0.0 ? -360.0 : 360.0;
        h_mean += h1 + h2 < 360.0 ? 180.0 : -180.0;
    }
    const double dl = other[0] - one[0], dc = c2 - c1;
    const double dbig_h = 2.0 * std::sqrt(c1 * c2) * std::sin(radians(0.5 * dh));
    const double l_mean = 0.5 * (one[0] + other[0]), cp_mean = 0.5 * (c1 + c2);
    const double t = 1.0 - 0.17 * std::cos(radians(h_mean - 30.0)) + 0.24 * std::cos(radians(2.0 * h_mean)) +
                     0.32 * std::cos(radians(3.0 * h_mean + 6.0)) -
                     0.20 * std::cos(radians(4.0 * h_mean - 63.0));
    const double turn = 30.0 * std::exp(-std::pow((h_mean - 275.0) / 25.0, 2));
    const double off = std::pow(l_mean - 50.0, 2);
    const double sl = 1.0 + 0.015 * off / std::sqrt(20.0 + off), sc = 1.0 + 0.045 * cp_mean,
                 sh = 1.0 + 0.015 * cp_mean * t;
    const double rt = -std::sin(radians(2.0 * turn)) * 2.0 * pull(cp_mean);
    return std::sqrt(std::pow(dl / sl, 2) + std::pow(dc / sc, 2) + std::pow(dbig_h / sh, 2) +
                     rt * (dc / sc) * (dbig_h / sh));
}

struct Under {
    const char* name;
    InkColour colour;
};
/// As cameras show them; common practice, no source.
constexpr std::array grounds{Under{"white ice", {236, 241, 245}}, Under{"ice in shade", {196, 208, 218}},
                             Under{"red paint", {200, 32, 48}},   Under{"blue paint", {30, 72, 160}},
                             Under{"crease", {150, 200, 235}},    Under{"grey boards", {150, 156, 162}}};

double between(InkColour one, InkColour other, const Eye& eye) {
    return ciede2000(lab(one, eye), lab(other, eye));
}

} // namespace

// Pairs 1, 7, 17 and 25 of the test data in the paper by Sharma, Wu and Dalal (from memory).
TEST_CASE("the difference between colours is CIEDE2000's to the digits of its paper") {
    CHECK(ciede2000({50.0, 2.6772, -79.7751}, {50.0, 0.0, -82.7485}) ==
          doctest::Approx(2.0425).epsilon(1e-4));
    CHECK(ciede2000({50.0, 0.0, 0.0}, {50.0, -1.0, 2.0}) == doctest::Approx(2.3669).epsilon(1e-4));
    CHECK(ciede2000({50.0, 2.5, 0.0}, {73.0, 25.0, -18.0}) == doctest::Approx(27.1492).epsilon(1e-4));
    CHECK(ciede2000({60.2574, -34.0099, 36.2677}, {60.4626, -34.1751, 39.4387}) ==
          doctest::Approx(1.2644).epsilon(1e-4));
}

TEST_CASE("the overlay stands apart from ice, paint and boards to all four kinds of eyes") {
    constexpr double apart = 20.0; // a just noticeable difference is about one
    for (const Eye& eye : eyes) {
        for (const Under& ground : grounds) {
            CAPTURE(eye.name);
            CAPTURE(ground.name);
            CHECK(between(overlay_ink, ground.colour, eye) > apart);
            CHECK(between(late_ink, ground.colour, eye) > apart);
        }
        CAPTURE(eye.name);
        CHECK(between(overlay_ink, late_ink, eye) > 2.0 * apart); // the two differ in lightness as well
        CHECK(std::abs(lab(overlay_ink, eye)[0] - lab(late_ink, eye)[0]) > 50.0);
    }
}

TEST_CASE("a rim keeps each of the two inks on whatever logo lies under it") {
    for (const Eye& eye : eyes) {
        CAPTURE(eye.name);
        // Of ink and rim one is always far from the ground in lightness.
        for (double lightness = 0.0; lightness <= 100.0; lightness += 5.0) {
            const auto far = [&](InkColour ink, InkColour rim) {
                return std::max(std::abs(lab(ink, eye)[0] - lightness),
                                std::abs(lab(rim, eye)[0] - lightness));
            };
            CHECK(far(overlay_ink, overlay_rim) > 30.0);
            CHECK(far(late_ink, late_rim) > 30.0);
        }
    }
}

TEST_CASE("the dash is its own: long, dot, long, dot, and it fills a line from its beginning to its end") {
    const auto inked = inked_stretches(5.0, 0.5);
    REQUIRE(inked.size() > 6);
    CHECK(inked.front().first == 0.0);
    for (std::size_t at = 0; at + 1 < inked.size(); ++at) {
        const double long_m = inked[at].second - inked[at].first;
        CHECK(long_m == doctest::Approx(at % 2 == 0 ? 0.5 : 0.11));
        CHECK(inked[at + 1].first > inked[at].second);
    }
    CHECK(inked.back().second <= 5.0);
    CHECK(inked_stretches(0.0, 0.5).empty());
    CHECK(inked_stretches(3.0, 0.0).empty());
}
