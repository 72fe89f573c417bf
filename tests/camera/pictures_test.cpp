// Against pictures and figures others published: Debian's opencv-doc,
// /usr/share/doc/opencv-doc/examples/data.
#include "camera/carry.h"
#include "camera/made_camera.h"
#include "camera/plane_fit.h"
#include "camera/rink_fit.h"

#include <doctest/doctest.h>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

#include <cmath>
#include <cstdio>
#include <random>
#include <string>

using namespace ropeline;

namespace {

const std::string folder = "/usr/share/doc/opencv-doc/examples/data/";

/// Decoded by the ffmpeg program, which the tests need anyway.
cv::Mat picture(const std::string& name, int width, int height) {
    const std::string command = "ffmpeg -v error -i " + folder + name + " -f rawvideo -pix_fmt rgb24 -";
    cv::Mat rgb(height, width, CV_8UC3);
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    const std::size_t read = std::fread(rgb.data, 1, rgb.total() * 3, pipe);
    pclose(pipe);
    const std::string complaint = folder + name + " cannot be read; the package opencv-doc holds it";
    REQUIRE_MESSAGE(read == rgb.total() * 3, complaint);
    return rgb;
}

cv::Mat grey(const cv::Mat& rgb) {
    cv::Mat made;
    cv::cvtColor(rgb, made, cv::COLOR_RGB2GRAY);
    return made;
}

// H1to3p.xml beside the pictures; Mikolajczyk & Schmid's graffiti pair.
const cv::Matx33d published(7.6285898e-01, -2.9922929e-01, 2.2567123e+02, 3.3443473e-01, 1.0143901e+00,
                            -7.6999973e+01, 3.4663091e-04, -1.4364524e-05, 1.0000000e+00);

cv::Point2d mapped(const cv::Matx33d& h, cv::Point2d at) {
    const cv::Vec3d seen = h * cv::Vec3d(at.x, at.y, 1.0);
    return {seen[0] / seen[2], seen[1] / seen[2]};
}

// left_intrinsics.yml beside the pictures: OpenCV's own calibration of left01.jpg to left14.jpg.
const cv::Matx33d published_camera(5.3591573396163199e+02, 0.0, 3.4228315473308373e+02, 0.0,
                                   5.3591573396163199e+02, 2.3557082909788173e+02, 0.0, 0.0, 1.0);
const std::vector<double> published_lens{-2.6637260909660682e-01, -3.8588898922304653e-02,
                                         1.7831947042852964e-03, -2.8122100441115472e-04,
                                         2.3839153080878486e-01};

} // namespace

TEST_CASE("graffiti pair: the fit agrees with the published homography") {
    const cv::Mat first = grey(picture("graf1.png", 800, 640)), third = grey(picture("graf3.png", 800, 640));
    // Features of the first picture, looked for in the third near where the published matrix puts them.
    cv::Mat straightened;
    cv::warpPerspective(third, straightened, published, first.size(), cv::INTER_CUBIC | cv::WARP_INVERSE_MAP);
    std::vector<cv::Point2f> from, to;
    cv::goodFeaturesToTrack(first, from, 400, 0.02, 12.0);
    std::vector<unsigned char> status;
    std::vector<float> errors;
    cv::calcOpticalFlowPyrLK(first, straightened, from, to, status, errors, {21, 21}, 2);
    std::vector<cv::Point2f> kept_from, kept_to, back;
    std::vector<unsigned char> back_status;
    cv::calcOpticalFlowPyrLK(straightened, first, to, back, back_status, errors, {21, 21}, 2);
    for (std::size_t i = 0; i < from.size(); ++i) {
        if (status[i] && back_status[i] && cv::norm(back[i] - from[i]) < 0.3 &&
            cv::norm(to[i] - from[i]) < 4.0) {
            kept_from.push_back(from[i]);
            kept_to.push_back(to[i]);
        }
    }
    std::vector<unsigned char> agree;
    cv::findHomography(kept_from, kept_to, cv::RANSAC, 1.5, agree);
    std::vector<LandmarkClick> clicks;
    for (std::size_t i = 0; i < kept_from.size(); ++i) {
        if (!agree[i]) continue;
        const cv::Point2d seen = mapped(published, kept_to[i]);
        // The wall as ice: centimetres to the pixel, y turned up.
        clicks.push_back({{seen.x, seen.y}, {kept_from[i].x / 100.0, -kept_from[i].y / 100.0}, "feature"});
    }
    REQUIRE(clicks.size() > 60);
    const RinkFit fit = fit_plane(clicks, {third.cols, third.rows});
    double squared = 0.0, worst = 0.0;
    int count = 0;
    for (double x = 100.0; x <= 700.0; x += 50.0) {
        for (double y = 100.0; y <= 550.0; y += 50.0) {
            const cv::Point2d theirs = mapped(published, {x, y});
            const ImagePoint ours = image_at(fit, {x / 100.0, -y / 100.0}).value();
            const double off = std::hypot(ours.x_px - theirs.x, ours.y_px - theirs.y);
            squared += off * off;
            worst = std::max(worst, off);
            ++count;
        }
    }
    MESSAGE(clicks.size() << " features, click sigma " << fit.click_sigma_px
                          << " px, off the published matrix by " << std::sqrt(squared / count) << " px RMS, "
                          << worst << " px at most");
    CHECK(std::sqrt(squared / count) < fit.click_sigma_px);
}

TEST_CASE("chessboards: the lens agrees with the published one within the spread of the boards") {
    // The published lens in our model: the division term that straightens the picture as nearly the same,
    // about the middle of the picture, least squares over the pixels.
    const double half_diagonal = std::hypot(640.0, 480.0) / 2.0;
    std::vector<double> found;
    for (const int number : {1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14}) {
        const std::string name =
            std::string("left") + (number < 10 ? "0" : "") + std::to_string(number) + ".jpg";
        const cv::Mat board = grey(picture(name, 640, 480));
        std::vector<cv::Point2f> corners;
        if (!cv::findChessboardCorners(board, {9, 6}, corners)) continue;
        cv::cornerSubPix(board, corners, {5, 5}, {-1, -1},
                         {cv::TermCriteria::COUNT | cv::TermCriteria::EPS, 40, 0.001});
        for (const double turned : {1.0, -1.0}) {
            std::vector<LandmarkClick> clicks;
            for (std::size_t i = 0; i < corners.size(); ++i) {
                const double x = static_cast<double>(i % 9), y = static_cast<double>(i / 9);
                clicks.push_back({{corners[i].x + 0.5, corners[i].y + 0.5}, {x, turned * y}, "corner"});
            }
            try {
                const RinkFit fit =
                    fit_plane(clicks, {640, 480}, {.click_sigma_px = 0.3, .lens = LensChoice::radial});
                found.push_back(fit.radial);
                break;
            } catch (const FitError&) {
                continue; // seen from the other side
            }
        }
    }
    REQUIRE(found.size() >= 11);
    std::vector<cv::Point2d> seen, straight;
    for (double x = 20.0; x < 640.0; x += 20.0) {
        for (double y = 20.0; y < 480.0; y += 20.0)
            seen.emplace_back(x, y);
    }
    cv::undistortPoints(seen, straight, published_camera, published_lens, cv::noArray(), published_camera);
    double up = 0.0, down = 0.0;
    for (std::size_t i = 0; i < seen.size(); ++i) {
        // s - m = (d - m) / (1 + k r^2): k r^2 (s - m) = (d - m) - (s - m), taken about the published middle.
        const cv::Point2d middle(published_camera(0, 2), published_camera(1, 2));
        const cv::Point2d d = seen[i] - middle, s = straight[i] - middle;
        const double r2 = d.dot(d) / (half_diagonal * half_diagonal);
        up += r2 * s.dot(d - s);
        down += r2 * r2 * s.dot(s);
    }
    const double theirs = up / down;
    // One term about the middle of the picture stands for three terms and an axis 22 px beside it, so the
    // boards differ by more than corner noise: their own spread is the sigma.
    const double count = static_cast<double>(found.size());
    double mean = 0.0, squared = 0.0;
    for (const double radial : found)
        mean += radial / count;
    for (const double radial : found)
        squared += (radial - mean) * (radial - mean);
    const double sigma = std::sqrt(squared / (count - 1.0) / count);
    MESSAGE("radial " << mean << " +- " << sigma << " over " << found.size()
                      << " boards; the published lens is " << theirs);
    CHECK(std::abs(mean - theirs) < 2.0 * sigma);
    CHECK(sigma < 0.05 * std::abs(theirs));
}

TEST_CASE("a virtual pan over a picture is carried with under half a pixel of drift") {
    const cv::Mat wall = picture("graf1.png", 800, 640);
    const RuleBook& rules = rule_book(RuleBookId::nhl);
    made::Camera camera;
    camera.image = {640, 480};
    camera.x_m = 1.0;
    camera.y_m = -7.0;
    camera.height_m = 7.0;
    camera.focal_px = 900.0;
    const auto looking = [&](double s) {
        made::Camera now = camera;
        now.looks_at = {1.2 * std::sin(0.9 * s), 0.4 * std::sin(0.7 * s)};
        now.focal_px *= 1.0 + 0.15 * std::sin(0.8 * s);
        return now;
    };
    // The picture lies on the ground, 100 pixels to the metre, its middle at the origin, its top away from
    // the camera.
    const cv::Matx33d ground_from_picture(0.01, 0.0, -4.0, 0.0, -0.01, 3.2, 0.0, 0.0, 1.0);
    const auto film = [&](double s) {
        const Matrix3 m = made::matrix_of(looking(s));
        const cv::Matx33d seen_from_ground(m.data());
        const cv::Matx33d half(1.0, 0.0, -0.5, 0.0, 1.0, -0.5, 0.0, 0.0,
                               1.0); // OpenCV counts from pixel centres
        cv::Mat frame;
        cv::warpPerspective(wall, frame, half * seen_from_ground * ground_from_picture * half.inv(),
                            {640, 480}, cv::INTER_CUBIC, cv::BORDER_REFLECT);
        return frame;
    };
    std::vector<LandmarkClick> clicks;
    for (const IcePoint at :
         {IcePoint{-1.5, -1.0}, {1.5, -1.0}, {1.5, 1.2}, {-1.5, 1.2}, {0.0, 0.3}, {0.7, -0.4}}) {
        clicks.push_back({made::see(looking(0.0), at), at, "spot"});
    }
    RinkFit fit = fit_rink(clicks, camera.image, {.click_sigma_px = 0.05, .paint_off_m = 0.0});
    Carrier carrier(fit, rules, {.use_paint = false});
    double worst = 0.0;
    int held = 0;
    constexpr int frames = 240;
    for (int i = 0; i < frames; ++i) {
        const double s = i / 30.0;
        const cv::Mat frame = film(s);
        const PictureView view{frame.data, 640, 480, static_cast<int>(frame.step)};
        const CarriedFrame now = i == 0 ? carrier.start(view) : carrier.next(view);
        held += now.state == CarryState::held ? 1 : 0;
        for (const IcePoint at : {IcePoint{-1.0, -0.8}, {1.0, -0.8}, {1.0, 0.9}, {-1.0, 0.9}, {0.0, 0.0}}) {
            const ImagePoint truth = made::see(looking(s), at);
            if (truth.x_px < 0 || truth.y_px < 0 || truth.x_px > 640 || truth.y_px > 480) continue;
            const auto carried = image_at(now.fit, at);
            REQUIRE(carried.has_value());
            worst = std::max(worst, std::hypot(carried->x_px - truth.x_px, carried->y_px - truth.y_px));
        }
    }
    MESSAGE("worst drift " << worst << " px over " << frames << " frames, held " << held);
    CHECK(worst < 0.5);
    CHECK(held >= frames * 9 / 10);
}
