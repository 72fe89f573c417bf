// What a fit costs while a handle is dragged (one display refresh is 16 ms), and what a
// measure request costs.
#include "camera/blend.h"
#include "camera/fit_advice.h"
#include "camera/made_camera.h"
#include "camera/rink_fit.h"
#include "camera/sight.h"
#include "depth/reading.h"
#include "desk/state/fit_draft.h"
#include "rink/curves.h"
#include "rink/landmarks.h"
#include "verbs/measure.h"

#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include <algorithm>
#include <random>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);

RinkClicks clicks(std::size_t count, bool with_curves) {
    const made::Camera camera;
    std::mt19937 random(1);
    std::normal_distribution<double> noise;
    RinkClicks made;
    for (const char* name : {"left_post", "right_post", "crease_top", "left_spot", "right_spot",
                             "left_circle_inner", "right_circle_high", "left_circle_low", "right_circle_low",
                             "left_circle_high", "right_circle_inner", "left_circle_outer"}) {
        if (made.points.size() == count) break;
        const Landmark mark = find_landmark(nhl, name).value();
        const ImagePoint at = made::see(camera, mark.at);
        made.points.push_back({{at.x_px + noise(random), at.y_px + noise(random)}, mark.at, mark.label});
    }
    for (double x = -6.0; with_curves && x <= 6.0; x += 2.0) {
        made.curves.push_back({made::see(camera, {x, 0.0}), find_curve(nhl, "goal_line").value()});
    }
    return made;
}

void fit(benchmark::State& state, std::size_t count, bool with_curves, LensChoice lens) {
    const RinkClicks made = clicks(count, with_curves);
    for (auto _ : state)
        benchmark::DoNotOptimize(fit_rink(made, {1920, 1080}, {.lens = lens}));
}

void fit_with_a_slip(benchmark::State& state) {
    RinkClicks made = clicks(12, false);
    made.points[3].at.x_px += 90.0;
    for (auto _ : state)
        benchmark::DoNotOptimize(fit_rink(made, {1920, 1080}));
}

/// One move of a click that is dragged on the desk: fit, lens, rule books, messages; `slip_px` puts another far off.
void drag(benchmark::State& state, double slip_px) {
    FitDraft draft;
    draft.image = {1920, 1080};
    const RinkClicks made = clicks(12, true);
    for (const LandmarkClick& click : made.points) {
        const auto mark = std::ranges::find(landmarks(nhl), click.point, &Landmark::at);
        draft.clicks.push_back({mark->name, click.at, click.point});
    }
    for (const CurveClick& click : made.curves)
        draft.clicks.push_back({click.curve.name, click.at, std::nullopt});
    draft.clicks[3].at.x_px += slip_px;
    ImagePoint at = draft.clicks[5].at;
    for (auto _ : state) {
        at.x_px += 0.01;
        draft = with_moved_click(std::move(draft), 5, at);
        if (draft.fit) benchmark::DoNotOptimize(draft.fit->rms_px);
    }
}

void offer_next(benchmark::State& state) {
    const RinkFit made = fit_rink(clicks(6, false), {1920, 1080});
    for (auto _ : state)
        benchmark::DoNotOptimize(next_clicks(made, {}, nhl));
}

void moment(benchmark::State& state) {
    const Parameters senior = parameters_for(Level::senior);
    const Stance stance = stance_from_skates({0.4, 1.2}, {0.9, 1.1});
    IcePoint puck{4.0, 6.0};
    for (auto _ : state) {
        puck.x_m += 1e-6;
        benchmark::DoNotOptimize(read_moment(stance, puck, nhl, senior));
    }
}

/// Request to answer, without starting the program; twelve landmarks, lens as the clicks support it.
void answer(benchmark::State& state) {
    std::string landmarks;
    for (const LandmarkClick& click : clicks(12, false).points) {
        landmarks += fmt::format("{}{{\"at\": [{}, {}], \"point\": [{}, {}]}}", landmarks.empty() ? "" : ", ",
                                 click.at.x_px, click.at.y_px, click.point.x_m, click.point.y_m);
    }
    const std::string request = fmt::format(
        "{{\"image\": [1920, 1080], \"landmarks\": [{}], \"points\": [[900, 500]], \"moments\": [{{\"puck\": "
        "[700, 600], \"skates\": [[1010, 652], [1040, 648]], \"threats\": [{{\"at\": [500, 700]}}]}}]}}",
        landmarks);
    for (auto _ : state)
        benchmark::DoNotOptimize(answer_measure(parse_measure_request(request)));
}

void blend(benchmark::State& state) {
    CarriedFrame one{.state = CarryState::held, .fit = fit_rink(clicks(8, false), {1920, 1080})};
    CarriedFrame other{.state = CarryState::held, .fit = fit_rink(clicks(12, false), {1920, 1080})};
    one.sigma_m = sigma_in_sight(one.fit);
    other.sigma_m = sigma_in_sight(other.fit);
    for (auto _ : state)
        benchmark::DoNotOptimize(blended(one, other));
}

} // namespace

BENCHMARK_CAPTURE(fit, four_points, 4, false, LensChoice::none)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, twelve_points, 12, false, LensChoice::none)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, twelve_points_and_curves, 12, true, LensChoice::none)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, twelve_points_and_curves_bent, 12, true, LensChoice::radial)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK(fit_with_a_slip)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(drag, clicks_that_agree, 0.0)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(drag, another_slipped, 90.0)->Unit(benchmark::kMillisecond);
BENCHMARK(offer_next)->Unit(benchmark::kMicrosecond);
BENCHMARK(answer)->Unit(benchmark::kMillisecond);
BENCHMARK(blend)->Unit(benchmark::kMicrosecond);
BENCHMARK(moment)->Unit(benchmark::kNanosecond);
BENCHMARK_MAIN();
