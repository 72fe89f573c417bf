// Whistles and loud moments in made sound: a pea whistle near 4 kHz with a trill of some 30 Hz (common practice, no
// source), and what is no referee's whistle.
#include "chances/find_marks.h"
#include "chances/made_game.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

using namespace ropeline;

namespace {

std::vector<float> noise(double length_s, double loud, unsigned seed = 1) {
    std::mt19937 random(seed);
    std::normal_distribution<float> normal(0.0F, static_cast<float>(loud));
    std::vector<float> sound(static_cast<std::size_t>(length_s * hearing_rate_hz));
    for (float& sample : sound)
        sample = normal(random);
    return sound;
}

void add_tone(std::vector<float>& sound, double from_s, double to_s, double loud, const auto& hz_at) {
    double phase = 0.0;
    for (double t = from_s; t < to_s; t += 1.0 / hearing_rate_hz) {
        phase += 2.0 * std::numbers::pi * hz_at(t) / hearing_rate_hz;
        sound[static_cast<std::size_t>(t * hearing_rate_hz)] += static_cast<float>(loud * std::sin(phase));
    }
}

std::vector<Stretch> whistles_in(const std::vector<float>& sound) {
    return whistles_of(hear(sound), 0.0);
}

/// From the sound of games, 24 kHz.
std::vector<float> at_hearing_rate(const std::vector<float>& sound) {
    std::vector<float> doubled;
    for (std::size_t i = 0; i + 1 < sound.size(); ++i) {
        doubled.push_back(sound[i]);
        doubled.push_back(0.5F * (sound[i] + sound[i + 1]));
    }
    return doubled;
}

} // namespace

TEST_CASE("a trilled tone of 2.5 to 4.5 kHz is a whistle, where and as long as it is blown") {
    for (const double hz : {2500.0, 3400.0, 3900.0, 4400.0}) {
        CAPTURE(hz);
        std::vector<float> sound = noise(4.0, 0.02);
        add_tone(sound, 2.0, 2.6, 0.05,
                 [&](double t) { return hz + 60.0 * std::sin(2.0 * std::numbers::pi * 30.0 * t); });
        const auto found = whistles_in(sound);
        REQUIRE(found.size() == 1);
        CHECK(std::abs(found[0].first_s - 2.0) < 0.1);
        CHECK(std::abs(found[0].last_s - 2.6) < 0.1);
    }
}

TEST_CASE("noise, a glide, a horn, a chord and a tone too short or too low are no whistle") {
    CHECK(whistles_in(noise(4.0, 0.05)).empty());
    const auto with = [](double from_s, double to_s, const auto& hz_at) {
        std::vector<float> sound = noise(4.0, 0.02);
        add_tone(sound, from_s, to_s, 0.05, hz_at);
        return whistles_in(sound);
    };
    CHECK(with(2.0, 2.6, [](double t) { return 2200.0 + 2000.0 * (t - 2.0); }).empty());
    CHECK(with(2.0, 2.12, [](double) { return 3900.0; }).empty());
    CHECK(with(2.0, 2.6, [](double) { return 1500.0; }).empty());
    for (const double lowest : {185.0, 440.0, 1300.0}) {
        CAPTURE(lowest);
        std::vector<float> sound = noise(4.0, 0.01);
        for (int overtone = 1; overtone < 20; ++overtone)
            add_tone(sound, 1.5, 3.5, 0.1 / overtone, [&](double) { return lowest * overtone; });
        CHECK(whistles_in(sound).empty());
    }
}

TEST_CASE("a made game's sound has crowd, swells for nothing, music, a horn and whistles from the stands, "
          "and of all of it "
          "only the referee's are found") {
    GameTruth truth;
    truth.whistles_s = {12.0, 31.0, 52.0};
    truth.whistles_of_crowd = {6.0, 20.0, 44.0};
    truth.swells_s = {25.0};
    truth.goals_s = {52.0};
    truth.chances_s = {50.0};
    truth.music = {{34.0, 40.0}};
    for (const unsigned seed : {1U, 2U, 3U}) {
        CAPTURE(seed);
        const auto heard = hear(at_hearing_rate(sound_of_game(truth, 60.0, seed)));
        const auto tone_in = [&](double from_s, double to_s) {
            float most = 0.0F;
            for (double at = from_s; at < to_s; at += hearing_step_s)
                most = std::max(most, heard[static_cast<std::size_t>(at / hearing_step_s)].tone);
            return most;
        };
        for (const double at : truth.whistles_of_crowd)
            CHECK(tone_in(at, at + 0.5) > 0.4F); // it is there, and loud enough to be taken for one
        CHECK(heard[static_cast<std::size_t>(54.0 / hearing_step_s)].loud_db >
              heard[static_cast<std::size_t>(48.0 / hearing_step_s)].loud_db + 6.0F); // the horn
        const auto found = whistles_of(heard, 0.0);
        REQUIRE(found.size() == truth.whistles_s.size());
        for (std::size_t i = 0; i < found.size(); ++i)
            CHECK(std::abs(found[i].first_s - truth.whistles_s[i]) < 0.15);
    }
}

TEST_CASE("loud is what rises above the half minute about it, however loud the hall is") {
    for (const double hall : {0.005, 0.05}) {
        std::vector<float> sound = noise(80.0, hall);
        const std::size_t from = 40 * hearing_rate_hz;
        for (std::size_t i = from; i < from + 2 * hearing_rate_hz; ++i)
            sound[i] *= 2.5F;
        const auto found = loud_of(hear(sound), 0.0);
        REQUIRE(found.size() == 1);
        CHECK(std::abs(found[0].first_s - 40.0) < 0.3);
        CHECK(std::abs(found[0].last_s - 42.0) < 0.3);
    }
}
