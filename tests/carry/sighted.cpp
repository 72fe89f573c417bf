#include "carry/sighted.h"

#include "carry/films.h"

#include <random>

namespace ropeline {

TurningCamera turning_camera(const demo::PinholeCamera& camera) {
    const demo::CameraAxes view = demo::axes(camera);
    TurningCamera turning;
    turning.camera_from_world << view.right.x, view.right.y, view.right.z, view.down.x, view.down.y,
        view.down.z, view.forward.x, view.forward.y, view.forward.z;
    turning.focal_px = camera.focal_px;
    turning.place_m = {camera.position.x, camera.position.y, camera.position.z};
    turning.radial = camera.radial;
    turning.image = camera.size;
    return turning;
}

CameraBelief known_camera(const demo::PinholeCamera& camera, unsigned seed, double place_sigma_m) {
    constexpr double lens_sigma = 0.01, turn_sigma = 0.002;
    std::mt19937 random(seed);
    std::normal_distribution<double> noise;
    CameraBelief known{turning_camera(camera), CameraSpread::Zero()};
    for (int k = 0; k < 3; ++k)
        known.camera.place_m(k) += place_sigma_m * noise(random);
    known.camera.radial += lens_sigma * noise(random);
    known.spread.diagonal().head<4>().setConstant(turn_sigma * turn_sigma);
    known.spread.diagonal().segment<3>(4).setConstant(place_sigma_m * place_sigma_m);
    known.spread(7, 7) = lens_sigma * lens_sigma;
    return known;
}

double error_in_view_m(const RinkFit& fit, const demo::PinholeCamera& camera) {
    const double near_net = net_area_error_m(fit, camera);
    if (near_net >= 0.0) return near_net;
    double worst_m = 0.0;
    const demo::CameraAxes view = demo::axes(camera);
    for (const double u : {0.25, 0.5, 0.75}) {
        const ImagePoint at{u * camera.size.width_px, 0.7 * camera.size.height_px};
        const demo::Vec3 way = demo::ray_through(camera, view, at);
        if (!(way.z < 0.0)) continue;
        const double reach = -camera.position.z / way.z;
        const auto ice = ice_at(fit, at);
        const IcePoint truth{camera.position.x + reach * way.x, camera.position.y + reach * way.y};
        worst_m = std::max(worst_m, ice ? distance(*ice, truth) : 99.0);
    }
    return worst_m;
}

} // namespace ropeline
