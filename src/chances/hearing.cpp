#include "chances/hearing.h"

#include <opencv2/core.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ropeline {

namespace {

constexpr double bin_hz = static_cast<double>(hearing_rate_hz) / hearing_window;
constexpr int bin_of(double hz) {
    return static_cast<int>(hz / bin_hz + 0.5);
}
/// A pea whistle trills: its tone is so wide to either side, with what the window smears.
constexpr int half_tone = bin_of(200.0);

const std::vector<float>& window() { // Hann
    static const std::vector<float> weights = [] {
        std::vector<float> made(hearing_window);
        for (std::size_t i = 0; i < made.size(); ++i)
            made[i] =
                static_cast<float>(0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(i) /
                                                        static_cast<double>(hearing_window)));
        return made;
    }();
    return weights;
}

double sum_of(const std::vector<float>& power, int from, int to) {
    double sum = 0.0;
    for (int bin = std::max(from, 0); bin <= to && bin < static_cast<int>(power.size()); ++bin)
        sum += power[static_cast<std::size_t>(bin)];
    return sum;
}

Heard heard_in(const std::vector<float>& power) {
    const auto from = power.begin() + bin_of(2000.0), to = power.begin() + bin_of(5000.0);
    const int peak = static_cast<int>(std::max_element(from, to) - power.begin());
    Heard heard;
    heard.tone_hz = static_cast<float>(peak * bin_hz);
    const double tone = sum_of(power, peak - half_tone, peak + half_tone);
    const double all = sum_of(power, bin_of(1000.0), bin_of(8000.0));
    heard.tone = all > 1e-12 ? static_cast<float>(tone / all) : 0.0F;
    // An overtone has its lower ones: a half or a third of it is about as loud.
    for (const int part : {2, 3}) {
        const int lower = peak / part;
        if (sum_of(power, lower - 3, lower + 3) > 0.5 * tone) heard.overtone = true;
    }
    return heard;
}

} // namespace

std::vector<Heard> hear(std::span<const float> mono) {
    std::vector<Heard> all;
    cv::Mat_<float> samples(1, static_cast<int>(hearing_window)), spectrum;
    std::vector<float> power(hearing_window / 2 + 1);
    for (std::size_t first = 0; first + hearing_window <= mono.size(); first += hearing_step) {
        double squares = 0.0;
        for (std::size_t i = 0; i < hearing_window; ++i) {
            const float sample = mono[first + i];
            squares += static_cast<double>(sample) * sample;
            samples(0, static_cast<int>(i)) = sample * window()[i];
        }
        cv::dft(samples, spectrum);
        power[0] = 0.0F;
        for (std::size_t bin = 1; bin < hearing_window / 2; ++bin) {
            const float re = spectrum(0, static_cast<int>(2 * bin - 1)),
                        im = spectrum(0, static_cast<int>(2 * bin));
            power[bin] = re * re + im * im;
        }
        Heard heard = heard_in(power);
        heard.loud_db = static_cast<float>(10.0 * std::log10(squares / hearing_window + 1e-12));
        all.push_back(heard);
    }
    return all;
}

} // namespace ropeline
