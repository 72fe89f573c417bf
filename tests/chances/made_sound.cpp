// The sound of a made game. The referee's whistle: a pea whistle is a tone near 4 kHz that trills some 30 times a second
// in loudness and pitch (common practice, no source).
#include "chances/made_game.h"
#include "demo/dice.h"

#include <cmath>
#include <functional>
#include <numbers>

namespace ropeline {
namespace {

constexpr double tau = 2.0 * std::numbers::pi;

/// Adds what `loud` says from `first_s` on for so long, with soft ends.
void add(std::vector<float>& sound, double first_s, double length_s,
         const std::function<double(double)>& at) {
    const auto from = static_cast<std::int64_t>(first_s * game_sound_hz);
    const auto count = static_cast<std::int64_t>(length_s * game_sound_hz);
    for (std::int64_t i = 0; i < count; ++i) {
        const std::int64_t where = from + i;
        if (where < 0 || where >= static_cast<std::int64_t>(sound.size())) continue;
        const double t = static_cast<double>(i) / game_sound_hz;
        const double edge = std::min({1.0, t / 0.02, (length_s - t) / 0.02});
        sound[static_cast<std::size_t>(where)] += static_cast<float>(edge * at(t));
    }
}

/// Steady noise of a crowd: pink by a sum of slower and slower noises (Voss and McCartney).
std::vector<float> crowd(std::size_t count, demo::Dice& dice) {
    std::vector<float> sound(count);
    std::array<double, 10> rows{};
    for (std::size_t i = 0; i < count; ++i) {
        double sum = dice.normal();
        for (std::size_t row = 0; row < rows.size(); ++row) {
            if ((i & ((std::size_t{2} << row) - 1)) == 0) rows[row] = dice.normal();
            sum += rows[row];
        }
        sound[i] = static_cast<float>(0.012 * sum);
    }
    return sound;
}

/// The crowd rises at `at_s` to `gain` times its loudness and falls again.
void swell(std::vector<float>& sound, double at_s, double gain, double fall_s) {
    const auto from = static_cast<std::int64_t>((at_s - 1.0) * game_sound_hz);
    const auto count = static_cast<std::int64_t>((1.0 + 2.0 * fall_s) * game_sound_hz);
    for (std::int64_t i = 0; i < count; ++i) {
        const std::int64_t where = from + i;
        if (where < 0 || where >= static_cast<std::int64_t>(sound.size())) continue;
        const double t = static_cast<double>(i) / game_sound_hz - 1.0;
        const double share = t < 0.0 ? 1.0 + t : std::exp(-t / fall_s);
        sound[static_cast<std::size_t>(where)] *= static_cast<float>(1.0 + (gain - 1.0) * share * share);
    }
}

void referee(std::vector<float>& sound, double at_s, demo::Dice& dice) {
    const double hz = dice.between(3500.0, 4200.0), trill_hz = dice.between(20.0, 40.0);
    const double loud = dice.between(0.06, 0.14);
    add(sound, at_s, dice.between(0.45, 0.9), [=](double t) {
        const double trill = std::sin(tau * trill_hz * t);
        return loud * (0.75 + 0.25 * trill) * std::sin(tau * hz * t + 60.0 / trill_hz * trill);
    });
}

/// Fingers in the mouth: up and down again.
void from_the_stands(std::vector<float>& sound, double at_s, demo::Dice& dice) {
    const double hz = dice.between(1400.0, 2000.0), length_s = dice.between(0.4, 0.7);
    double phase = 0.0;
    add(sound, at_s, length_s, [=](double t) mutable {
        phase += tau * (hz + 1400.0 * std::sin(std::numbers::pi * t / length_s)) / game_sound_hz;
        return 0.05 * std::sin(phase);
    });
}

/// Chords with overtones, a drum on the beat.
void music(std::vector<float>& sound, const Stretch& when, demo::Dice& dice) {
    const double beat_s = 0.48;
    for (double at = when.first_s; at + beat_s < when.last_s; at += beat_s) {
        for (int voice = 0; voice < 3; ++voice) {
            const double hz = 220.0 * std::pow(2.0, dice.pick(25) / 12.0);
            add(sound, at, beat_s, [=](double t) {
                double sum = 0.0;
                for (int overtone = 1; overtone < 9; ++overtone)
                    sum += std::sin(tau * hz * overtone * t) / overtone;
                return 0.02 * sum;
            });
        }
        demo::Dice hit(static_cast<std::uint64_t>(1000.0 * at));
        add(sound, at, 0.12, [&](double t) { return 0.08 * std::exp(-30.0 * t) * hit.normal(); });
    }
}

void horn(std::vector<float>& sound, double at_s) {
    add(sound, at_s, 2.5, [](double t) {
        double sum = 0.0;
        for (int overtone = 1; overtone < 20; ++overtone)
            sum += std::sin(tau * 185.0 * overtone * t) / overtone;
        return 0.15 * sum;
    });
}

} // namespace

std::vector<float> sound_of_game(const GameTruth& truth, double length_s, unsigned seed) {
    demo::Dice dice(seed + 77);
    std::vector<float> sound = crowd(static_cast<std::size_t>(length_s * game_sound_hz), dice);
    for (const double at : truth.chances_s) {
        if (dice.chance(0.7)) swell(sound, at + 0.6, dice.between(1.6, 3.5), 1.5);
    }
    for (const double at : truth.swells_s)
        swell(sound, at, dice.between(1.6, 3.5), 2.0);
    for (const double at : truth.goals_s) {
        swell(sound, at + 1.5, 4.0, 4.0);
        horn(sound, at + 1.2);
    }
    for (const double at : truth.whistles_s)
        referee(sound, at, dice);
    for (const double at : truth.whistles_of_crowd)
        from_the_stands(sound, at, dice);
    for (const Stretch& when : truth.music)
        music(sound, when, dice);
    return sound;
}

} // namespace ropeline
