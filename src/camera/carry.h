// Carrying a rink fit through a moving shot: the camera turns, tilts and zooms about a place. Each frame is
// held against a key view by tracked background features (never against the frame before, so error does not
// add up) and against the painted lines.
#pragma once

#include "camera/picture_view.h"
#include "camera/rink_fit.h"

#include <memory>
#include <optional>
#include <string_view>

namespace ropeline {

enum class CarryState { held, unsure, lost };
std::string_view key_of(CarryState state);

struct CarriedFrame {
    CarryState state = CarryState::lost;
    RinkFit fit;         ///< with covariance; the last one known while lost
    double rms_px = 0.0; ///< of the painted lines that agree, else of the tracked features
    double sigma_m =
        0.0; ///< of a place in the part of the ice in sight that matters most, the net's if it is in sight
    int paint_agreed = 0, paint_expected = 0, features = 0;
};

struct CarryOptions {
    bool use_paint = true; ///< off for a scene that is no rink
};

/// Walks through consecutive frames, forward or backward. Not thread-safe; owns its memory, under 100 MB at
/// 1920x1080.
class Carrier {
public:
    /// Throws  FitError when the fit is not what a turning camera with square pixels sees.
    Carrier(const RinkFit& fit, const RuleBook& rules, const CarryOptions& options = {});
    ~Carrier();
    Carrier(Carrier&&) noexcept;
    Carrier& operator=(Carrier&&) noexcept;

    /// The frame that was fitted; call it first.
    CarriedFrame start(const PictureView& picture);
    /// The next frame of the walk.
    CarriedFrame next(const PictureView& picture);

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
