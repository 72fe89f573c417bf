// Views of the scene with known camera, and how a new frame is held against one of them.
#pragma once

#include "camera/turning_camera.h"

#include <opencv2/core.hpp>

#include <optional>
#include <vector>

namespace ropeline {

/// Where in the picture features move with the scene, and where not: graphics
/// burnt in, a crowd in front, players.
class FeatureTrust {
public:
    void note(cv::Point2f at, bool agrees, cv::Size picture);
    /// Once a frame: what was seen long ago counts less.
    void fade();
    bool barred(cv::Point2f at, cv::Size picture) const;

private:
    cv::Mat1f good_, bad_;
};

/// Mean and spread of brightness, by which a lit frame is laid over another.
struct Brightness {
    double mean = 0.0, spread = 1.0;
};

struct KeyView {
    cv::Mat grey;
    std::vector<cv::Point2f> points; ///< features, pixels
    std::vector<int> strikes;        ///< by feature: how often it moved against the scene
    CameraBelief belief;
    bool on_paint = false; ///< was anchored to painted lines when it was taken
    Brightness brightness;
};

/// Grey picture with its pyramid, made when it is first tracked in.
struct GreyFrame {
    cv::Mat grey;
    std::vector<cv::Mat> pyramid;
};

Brightness brightness_of(const cv::Mat& grey);
/// The picture as it would be in another light.
cv::Mat as_bright_as(const cv::Mat& grey, const Brightness& from, const Brightness& to);

/// Its features lie spread over the picture, none where they are not to be
/// trusted.
KeyView key_view(const cv::Mat& grey, const CameraBelief& belief, bool on_paint,
                 const FeatureTrust& trust = {});

struct Tracked {
    CameraBelief belief; ///< turned and zoomed from the key view; the place is the key view's
    int features = 0;    ///< that agree
    double share = 0.0;  ///< of those tried
    double rms_px = 0.0;
    struct Seen {
        std::size_t feature;
        Eigen::Vector2d pixel; ///< straightened
        cv::Point2f at;        ///< in the film's picture
    };
    std::vector<Seen> seen; ///< all features found, whether they agree or not
};

/// Drops features of the key view that keep moving against the scene as
/// `camera` sees it: they sit on players, or on what was laid over the picture
/// and stays while the camera moves. `trust` hears of each.
void weed(KeyView& key, const std::vector<Tracked::Seen>& seen, const TurningCamera& camera,
          FeatureTrust& trust);

/// The frame's camera from features of the key view, looked for near where the camera `near` puts them.
/// Pyramids of the key view are kept in `key_pyramid`, empty to have it built.
/// Out     nothing when too few features agree on one turn and zoom.
std::optional<Tracked> track(const KeyView& key, std::vector<cv::Mat>& key_pyramid, GreyFrame& frame,
                             const TurningCamera& near);

/// How far apart two views look: share of the picture moved, or change of zoom, whichever is larger.
double view_distance(const TurningCamera& a, const TurningCamera& b);

} // namespace ropeline
