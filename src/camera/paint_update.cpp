#include "camera/paint_update.h"

#include "camera/dense.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

constexpr double worst_line_sigma_px = 1.2, best_line_sigma_px = 0.45; // of one match
constexpr double line_off_m =
    0.06; // a line as a whole lies off the rule book's by so much: a circle is smaller
constexpr double wavers_m = 0.025;     // and wavers about itself by so much
constexpr double most_wavers_px = 2.5; // where that is more, lines beside each other would be taken for one
constexpr double most_counted = 80.0;  // neighbours on a line err together: information of so many at most
constexpr double most_painted = 40.0;  // and of what wavers

double wavers_px(const PaintMatch& match) {
    return std::min(most_wavers_px, wavers_m * std::abs(match.px_per_m));
}

/// How far one painted line lies off the rule book's, square to itself, and what the film says of that.
struct LineOff {
    double m = 0.0;
    double information = 0.0, pull = 0.0;
    CameraStep with_camera = CameraStep::Zero();
};

/// What one look at the paint says of the camera, whatever each line is off by.
struct PaintSays {
    CameraSpread information = CameraSpread::Zero();
    CameraStep pull = CameraStep::Zero();
    std::vector<LineOff> lines;
    double squared = 0.0, squared_sigmas = 0.0; ///< of what agrees
    int agreed = 0;

    LineOff& line_of(const PaintMatch& match) {
        if (lines.size() <= match.sample->line) lines.resize(match.sample->line + 1);
        return lines[match.sample->line];
    }

    void add(const PaintMatch& match, const CameraStep& slope, double scale_px, double variance) {
        LineOff& line = line_of(match);
        const double left_px = match.off_px - line.m * match.px_per_m;
        const double scale = std::hypot(scale_px, wavers_px(match)), sigmas = left_px / scale;
        const double trust = 1.0 / ((1.0 + sigmas * sigmas) * (1.0 + sigmas * sigmas)); // Geman-McClure
        const double weight = trust / variance;
        information += slope * slope.transpose() * weight;
        pull += slope * (match.off_px * weight);
        line.information += match.px_per_m * match.px_per_m * weight;
        line.pull += match.px_per_m * match.off_px * weight;
        line.with_camera += slope * (match.px_per_m * weight);
        if (std::abs(left_px) >= 2.0 * scale) return;
        squared += left_px * left_px;
        const double met_px = std::hypot(best_line_sigma_px, wavers_px(match));
        squared_sigmas += left_px * left_px / (met_px * met_px);
        ++agreed;
    }

    /// Takes the lines out: what is left is of the camera alone.
    void leave_camera() {
        for (LineOff& line : lines) {
            line.information += 1.0 / (line_off_m * line_off_m);
            information -= line.with_camera * line.with_camera.transpose() / line.information;
            pull -= line.with_camera * (line.pull / line.information);
        }
    }

    /// The lines again, for a camera that has taken this step, with nothing seen of them yet.
    std::vector<LineOff> lines_after(const CameraStep& step) const {
        std::vector<LineOff> after(lines.size());
        for (std::size_t i = 0; i < lines.size(); ++i)
            after[i].m = (lines[i].pull - lines[i].with_camera.dot(step)) / lines[i].information;
        return after;
    }
};

} // namespace

PaintUpdate update_by_paint(const CameraBelief& before, const std::vector<PaintSample>& samples,
                            const PictureView& picture, double reach_px, const CameraStep& start) {
    PaintUpdate update{.belief = before};
    const CameraSpread prior = inverse_of(before.spread);
    CameraStep from_prior = start; // of the current camera, accumulated
    TurningCamera camera = moved(before.camera, start);
    double scale_px = std::max(1.0, reach_px / 3.0), line_sigma_px = worst_line_sigma_px;
    int counted = 0;
    CameraSpread information = prior;
    std::vector<LineOff> lines;
    for (int round = 0; round < 4; ++round) {
        const double reach = round == 0 ? reach_px : std::max(3.0, reach_px / (round + 1.0));
        const PaintLook look = look_for_paint(camera, samples, picture, reach);
        if (round == 0) counted = static_cast<int>(look.found.size());
        PaintSays says;
        says.lines = lines;
        for (const PaintMatch& match : look.found) {
            Eigen::Vector2d pixel;
            if (!project(camera, match.sample->at, pixel)) continue;
            const double wavers = wavers_px(match);
            says.add(match, pixel_by_step(camera, match.sample->at, pixel).transpose() * match.across,
                     scale_px,
                     line_sigma_px * line_sigma_px * std::max(1.0, counted / most_counted) +
                         wavers * wavers * std::max(1.0, counted / most_painted));
        }
        says.leave_camera();
        information = prior + says.information;
        const CameraStep step = solved(information, says.pull - prior * from_prior);
        if (!step.allFinite()) return update;
        camera = moved(camera, step);
        from_prior += step;
        lines = says.lines_after(step);
        update.agreed = says.agreed;
        update.expected = look.expected;
        const double count = std::max(1, says.agreed);
        update.rms_px = std::sqrt(says.squared / count);
        update.rms_sigmas = std::sqrt(says.squared_sigmas / count);
        scale_px = 1.0;
        counted = says.agreed;
        if (says.agreed > 0) // as well as the lines were met, and no better than film can show them
            line_sigma_px = std::clamp(1.3 * update.rms_px, best_line_sigma_px, worst_line_sigma_px);
        if (round >= 1 && step.head<3>().norm() * camera.focal_px < 0.02) break;
    }
    update.belief = {camera, inverse_of(information)};
    update.moved = from_prior;
    return update;
}

PaintUpdate settle_on_paint(const CameraBelief& before, const std::vector<PaintSample>& samples,
                            const PictureView& picture, double reach_px) {
    constexpr double clearly = 0.95;
    // What goes with a lens that is a sigma stronger.
    const CameraStep by_lens = before.spread.col(7) / std::sqrt(std::max(before.spread(7, 7), 1e-12));
    PaintUpdate best;
    for (const double sigmas : {0.0, -1.5, 1.5}) {
        PaintUpdate tried;
        tried.moved = sigmas * by_lens;
        for (const double reach : {reach_px, reach_px / 2.0, reach_px / 2.0})
            tried = update_by_paint(before, samples, picture, reach, tried.moved);
        if (best.expected == 0 || misfit(tried) < clearly * misfit(best)) best = tried;
    }
    return best;
}

double misfit(const PaintUpdate& paint) {
    return (paint.agreed * paint.rms_px * paint.rms_px + 4.0 * (paint.expected - paint.agreed)) /
           std::max(1, paint.expected);
}

} // namespace ropeline
