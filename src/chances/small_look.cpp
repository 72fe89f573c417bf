#include "chances/small_look.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

namespace ropeline {

namespace {

/// Ice is white: as bright as this share of the picture's brightest tenth, and nearly without colour.
constexpr double ice_share = 0.62;
constexpr float ice_colour = 9.0F;
/// Light blue leans to green: its red lacks about as much as its blue has too much. The blue of lines and art lacks
/// little red (12 to 15 and -2 levels on one television picture), or it is dark.
constexpr float crease_blue = 4.0F, red_lacking = 0.45F;
/// Posts and bar are red (NHL rule 2.1), not orange; a pixel of a small picture has only a part of a pipe.
constexpr float least_red = 8.0F;

struct Patch {
    int left = 0, top = 0, right = 0, bottom = 0, count = 0;
    double sum_x = 0.0, sum_y = 0.0, sum_xx = 0.0, sum_yy = 0.0, sum_xy = 0.0;
    int beside_ice = 0, beside_other = 0; ///< pixels around it
};

enum class Kind : std::uint8_t { other, ice, crease, red, taken };

float bright_level(const SmallPicture& picture) {
    std::vector<float> levels = picture.luma;
    const auto tenth = levels.begin() + static_cast<std::ptrdiff_t>(levels.size() * 9 / 10);
    std::nth_element(levels.begin(), tenth, levels.end());
    return *tenth;
}

std::vector<Kind> kinds_of(const SmallPicture& picture) {
    const float bright = bright_level(picture);
    const auto least = static_cast<float>(ice_share) * bright;
    std::vector<Kind> kinds(picture.luma.size(), Kind::other);
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        const float red = picture.red[i], blue = picture.blue[i];
        if (red > least_red && blue > -0.4F * red) {
            kinds[i] = Kind::red;
        } else if (picture.luma[i] < least) {
            continue;
        } else if (blue > crease_blue && red < -red_lacking * blue) {
            kinds[i] = Kind::crease;
        } else if (std::abs(blue) < ice_colour && std::abs(red) < ice_colour) {
            kinds[i] = Kind::ice;
        }
    }
    return kinds;
}

/// The crease is lined in red: what lies about it is seen so far beyond its edge.
constexpr int beyond_line = 3;

void note_beside(Patch& patch, const std::vector<Kind>& kinds, int width, int height, int x, int y) {
    if (x < 0 || y < 0 || x >= width || y >= height) return;
    const Kind kind = kinds[static_cast<std::size_t>(y * width + x)];
    if (kind == Kind::ice) ++patch.beside_ice;
    if (kind == Kind::other) ++patch.beside_other;
}

/// All that hangs together with a pixel and is of its kind; it is taken from `kinds`.
Patch patch_at(std::vector<Kind>& kinds, int width, int height, int x0, int y0) {
    Patch patch{x0, y0, x0, y0};
    std::vector<int> open{y0 * width + x0};
    const Kind wanted = kinds[static_cast<std::size_t>(open.back())];
    kinds[static_cast<std::size_t>(open.back())] = Kind::taken;
    while (!open.empty()) {
        const int at = open.back(), x = at % width, y = at / width;
        open.pop_back();
        ++patch.count;
        patch.left = std::min(patch.left, x), patch.right = std::max(patch.right, x);
        patch.top = std::min(patch.top, y), patch.bottom = std::max(patch.bottom, y);
        patch.sum_x += x, patch.sum_y += y;
        patch.sum_xx += x * x, patch.sum_yy += y * y, patch.sum_xy += x * y;
        for (const auto& [dx, dy] : {std::pair{1, 0}, std::pair{-1, 0}, std::pair{0, 1}, std::pair{0, -1}}) {
            const int u = x + dx, v = y + dy;
            if (u < 0 || v < 0 || u >= width || v >= height) {
                ++patch.beside_other;
                continue;
            }
            Kind& kind = kinds[static_cast<std::size_t>(v * width + u)];
            if (kind == wanted) {
                kind = Kind::taken;
                open.push_back(v * width + u);
            } else if (kind != Kind::taken) {
                note_beside(patch, kinds, width, height, x + beyond_line * dx, y + beyond_line * dy);
            }
        }
    }
    return patch;
}

/// A crease is 8 feet wide and 6 deep (NHL rule 1.7), lies flat and has ice around it, but for the net and who stands in
/// it; a blue line is a band across the picture, a jersey small and among other colours.
double crease_score(const Patch& patch, const SmallPicture& picture) {
    const double area = static_cast<double>(patch.count) / static_cast<double>(picture.luma.size());
    if (patch.count < 14 || area > 0.06) return 0.0;
    const double n = patch.count, mx = patch.sum_x / n, my = patch.sum_y / n;
    const double xx = patch.sum_xx / n - mx * mx + 1.0 / 12, yy = patch.sum_yy / n - my * my + 1.0 / 12,
                 xy = patch.sum_xy / n - mx * my;
    const double middle = 0.5 * (xx + yy), away = std::hypot(0.5 * (xx - yy), xy);
    const double longer = std::sqrt(middle + away), shorter = std::sqrt(std::max(1e-3, middle - away));
    const double longest = 3.46 * longer; // of a bar with this spread
    if (longest > 0.4 * picture.width_px || longer > 7.0 * shorter) return 0.0;
    const double full = n / (12.0 * longer * shorter); // 1 of a bar, less of what has holes
    const double edge = patch.beside_ice + patch.beside_other;
    const double on_ice = patch.beside_ice / std::max(1.0, edge);
    if (on_ice < 0.35 || full < 0.5) return 0.0;
    return std::min(1.0, n / 80.0) * std::min(1.0, on_ice / 0.6) * std::min(1.0, full / 0.8);
}

} // namespace

SmallPicture small_picture_of(const PictureView& rgb) {
    SmallPicture small{rgb.width_px, rgb.height_px, {}, {}, {}};
    const auto count = static_cast<std::size_t>(rgb.width_px) * static_cast<std::size_t>(rgb.height_px);
    for (auto* plane : {&small.luma, &small.blue, &small.red})
        plane->resize(count);
    std::size_t i = 0;
    for (int y = 0; y < rgb.height_px; ++y) {
        const std::uint8_t* at = rgb.pixel(0, y);
        for (int x = 0; x < rgb.width_px; ++x, at += 3, ++i) {
            const float luma = 0.2126F * at[0] + 0.7152F * at[1] + 0.0722F * at[2]; // BT.709
            small.luma[i] = luma;
            small.blue[i] = (at[2] - luma) * (1.0F / 1.8556F);
            small.red[i] = (at[0] - luma) * (1.0F / 1.5748F);
        }
    }
    return small;
}

namespace {

/// The frame of a net is an outline, 6 feet wide and 4 high, that stands at the crease: hollow where an advertisement, a
/// jersey or a spot is full. The goal line may hang together with it, so only what lies about the crease is looked at.
bool has_frame(const std::vector<Kind>& kinds, const SmallPicture& picture, const Patch& crease) {
    const int width = crease.right - crease.left + 1;
    const int left = std::max(0, crease.left - width / 2), top = std::max(0, crease.top - width);
    const int right = std::min(picture.width_px, crease.right + width / 2 + 1);
    const int bottom = std::min(picture.height_px, crease.bottom + 1);
    std::vector<Kind> about;
    for (int y = top; y < bottom; ++y) {
        const auto row = kinds.begin() + y * picture.width_px;
        about.insert(about.end(), row + left, row + right);
    }
    for (int y = 0; y < bottom - top; ++y) {
        for (int x = 0; x < right - left; ++x) {
            if (about[static_cast<std::size_t>(y * (right - left) + x)] != Kind::red) continue;
            const Patch red = patch_at(about, right - left, bottom - top, x, y);
            const double tall = red.bottom - red.top + 1.0, wide = red.right - red.left + 1.0;
            // Pipes are 6 cm thick, wide lines 30.
            const bool thin = red.count < (1.5 + 0.03 * width) * (2.0 * tall + wide);
            const bool hollow = red.count < 0.55 * tall * wide && thin;
            const bool as_large = tall >= std::max(3.0, 0.2 * width) && wide >= std::max(3.0, 0.25 * width);
            const bool stands_at_it = red.bottom + top >= crease.top - 0.15 * width;
            if (hollow && as_large && stands_at_it) return true;
        }
    }
    return false;
}

} // namespace

std::optional<CreaseSeen> find_net(const SmallPicture& picture) {
    const std::vector<Kind> kinds = kinds_of(picture);
    std::vector<Kind> left = kinds;
    std::optional<CreaseSeen> best;
    for (int y = 0; y < picture.height_px; ++y) {
        for (int x = 0; x < picture.width_px; ++x) {
            if (left[static_cast<std::size_t>(y * picture.width_px + x)] != Kind::crease) continue;
            const Patch patch = patch_at(left, picture.width_px, picture.height_px, x, y);
            const double score = crease_score(patch, picture);
            if (score <= 0.0 || (best && best->score >= score) || !has_frame(kinds, picture, patch)) continue;
            best = CreaseSeen{score, patch.sum_x / patch.count, patch.sum_y / patch.count,
                              patch.right - patch.left + 1.0, patch.bottom - patch.top + 1.0};
        }
    }
    return best;
}

namespace {

/// Sums over rectangles from the corner on, for means of any window.
std::vector<double> sums_of(const std::vector<float>& values, int width, int height) {
    const int stride = width + 1;
    std::vector<double> sums(static_cast<std::size_t>(stride * (height + 1)));
    for (int y = 0; y < height; ++y) {
        double row = 0.0;
        for (int x = 0; x < width; ++x) {
            row += values[static_cast<std::size_t>(y * width + x)];
            sums[static_cast<std::size_t>((y + 1) * stride + x + 1)] =
                sums[static_cast<std::size_t>(y * stride + x + 1)] + row;
        }
    }
    return sums;
}

/// What is dark above and bright below on every picture of a rink says nothing of whether two are alike.
void take_off_surroundings(CoarsePicture& picture) {
    constexpr int reach = 5;
    const std::vector<double> sums = sums_of(picture.luma, picture.width, picture.height);
    const int stride = picture.width + 1;
    for (int y = 0; y < picture.height; ++y) {
        const int top = std::max(0, y - reach), bottom = std::min(picture.height, y + reach + 1);
        for (int x = 0; x < picture.width; ++x) {
            const int left = std::max(0, x - reach), right = std::min(picture.width, x + reach + 1);
            const auto at = [&](int u, int v) { return sums[static_cast<std::size_t>(v * stride + u)]; };
            const double sum = at(right, bottom) - at(left, bottom) - at(right, top) + at(left, top);
            picture.luma[static_cast<std::size_t>(y * picture.width + x)] -=
                static_cast<float>(sum / ((right - left) * (bottom - top)));
        }
    }
}

} // namespace

CoarsePicture coarse_of(const SmallPicture& picture) {
    constexpr int cell = coarse_cell_px;
    CoarsePicture coarse{picture.width_px / cell, picture.height_px / cell, {}};
    coarse.luma.reserve(static_cast<std::size_t>(coarse.width * coarse.height));
    for (int y = 0; y < coarse.height; ++y) {
        for (int x = 0; x < coarse.width; ++x) {
            float sum = 0.0F;
            for (int v = 0; v < cell; ++v) {
                for (int u = 0; u < cell; ++u)
                    sum +=
                        picture
                            .luma[static_cast<std::size_t>((cell * y + v) * picture.width_px + cell * x + u)];
            }
            coarse.luma.push_back(sum / (cell * cell));
        }
    }
    take_off_surroundings(coarse);
    return coarse;
}

namespace {

/// Correlation of the part that both have when the camera moved by (dx, dy).
double likeness_at(const CoarsePicture& before, const CoarsePicture& now, int dx, int dy) {
    const int left = std::max(0, dx), right = std::min(now.width, now.width + dx);
    const int top = std::max(0, dy), bottom = std::min(now.height, now.height + dy);
    float n = 0.0F, a = 0.0F, b = 0.0F, aa = 0.0F, bb = 0.0F, ab = 0.0F;
    for (int y = top; y < bottom; ++y) {
        const float* p = &before.luma[static_cast<std::size_t>((y - dy) * before.width + left - dx)];
        const float* q = &now.luma[static_cast<std::size_t>(y * now.width + left)];
        for (int x = left; x < right; ++x, ++p, ++q) {
            const float u = *p, v = *q;
            a += u, b += v, aa += u * u, bb += v * v, ab += u * v;
        }
        n += static_cast<float>(right - left);
    }
    const double va = aa - a * a / n, vb = bb - b * b / n;
    return va > 1.0 && vb > 1.0 ? (ab - a * b / n) / std::sqrt(va * vb)
                                : (va <= 1.0 && vb <= 1.0 ? 1.0 : 0.0);
}

} // namespace

PictureChange change_between(const CoarsePicture& before, const CoarsePicture& now) {
    const int reach_x = now.width / 4, reach_y = now.height / 5;
    double best = -2.0;
    int best_x = 0, best_y = 0;
    const auto try_at = [&](int dx, int dy) {
        // Of two that are alike the smaller move: flat pictures say nothing of it.
        const double likeness = likeness_at(before, now, dx, dy) - 0.0005 * (std::abs(dx) + std::abs(dy));
        if (likeness > best) best = likeness, best_x = dx, best_y = dy;
    };
    for (int dy = -reach_y; dy <= reach_y; dy += 2) {
        for (int dx = -reach_x; dx <= reach_x; dx += 2)
            try_at(dx, dy);
    }
    const int about_x = best_x, about_y = best_y;
    for (int dy = about_y - 1; dy <= about_y + 1; ++dy) {
        for (int dx = about_x - 1; dx <= about_x + 1; ++dx)
            try_at(dx, dy);
    }
    return {best, coarse_cell_px * static_cast<double>(best_x), coarse_cell_px * static_cast<double>(best_y)};
}

namespace {

double mean_change(const SmallPicture& before, const SmallPicture& now, int left, int top, int right,
                   int bottom, int dx, int dy) {
    double sum = 0.0;
    int count = 0;
    for (int y = std::max({top, 0, dy}); y < std::min({bottom, now.height_px, now.height_px + dy}); ++y) {
        for (int x = std::max({left, 0, dx}); x < std::min({right, now.width_px, now.width_px + dx}); ++x) {
            sum += std::abs(now.luma[static_cast<std::size_t>(y * now.width_px + x)] -
                            before.luma[static_cast<std::size_t>((y - dy) * now.width_px + x - dx)]);
            ++count;
        }
    }
    return count > 0 ? sum / count : 1e9;
}

} // namespace

double change_of_all(const SmallPicture& before, const SmallPicture& now) {
    return mean_change(before, now, 0, 0, now.width_px, now.height_px, 0, 0);
}

double stir_in(const SmallPicture& before, const SmallPicture& now, const PictureChange& change, double x_px,
               double y_px, double half_width_px, double half_height_px) {
    const int left = static_cast<int>(x_px - half_width_px),
              right = static_cast<int>(x_px + half_width_px) + 1;
    const int top = static_cast<int>(y_px - half_height_px),
              bottom = static_cast<int>(y_px + half_height_px) + 1;
    const int dx = static_cast<int>(change.dx_px), dy = static_cast<int>(change.dy_px);
    double least = 1e9;
    for (int v = dy - 3; v <= dy + 3; ++v) {
        for (int u = dx - 3; u <= dx + 3; ++u)
            least = std::min(least, mean_change(before, now, left, top, right, bottom, u, v));
    }
    return least < 1e9 ? least : 0.0;
}

} // namespace ropeline
