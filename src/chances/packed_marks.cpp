#include "chances/packed_marks.h"

#include "film/packed_numbers.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>

namespace ropeline {

namespace {

constexpr std::int64_t edition = 1; ///< of the bytes and of what finds the marks
constexpr double step_s = 0.05;

/// Times of a list, each as its way from the one before.
class TimeWriter : public NumberWriter {
public:
    void time(double at_s) {
        const std::int64_t steps = std::llround(at_s / step_s);
        number(steps - before_);
        before_ = steps;
    }
    template <class Mark>
    void list(const std::vector<Mark>& marks, const auto& write_one) {
        before_ = 0;
        number(static_cast<std::int64_t>(marks.size()));
        for (const Mark& mark : marks)
            write_one(mark);
    }

private:
    std::int64_t before_ = 0;
};

class TimeReader : public NumberReader {
public:
    using NumberReader::NumberReader;
    double time() {
        constexpr std::int64_t furthest = std::int64_t{1} << 50;
        const std::int64_t way = number();
        if (std::abs(before_) > furthest || way > furthest || way < -furthest) throw Damaged{};
        before_ += way;
        return step_s * static_cast<double>(before_);
    }
    template <class Mark>
    void list(std::vector<Mark>& marks, const auto& read_one) {
        before_ = 0;
        const std::int64_t count = number();
        for (std::int64_t i = 0; i < count; ++i)
            marks.push_back(read_one());
    }

private:
    std::int64_t before_ = 0;
};

constexpr double score_steps = 100.0;

} // namespace

std::vector<std::byte> packed(const FilmMarks& marks) {
    TimeWriter to;
    to.number(edition);
    to.number(marks.whole ? 1 : 0);
    to.time(marks.until_s);
    const auto stretch = [&](const Stretch& one) { to.time(one.first_s), to.time(one.last_s); };
    to.list(marks.cuts_s, [&](double at_s) { to.time(at_s); });
    for (const auto* stretches : {&marks.net_in_view, &marks.whistles, &marks.loud, &marks.still})
        to.list(*stretches, stretch);
    to.list(marks.chances, [&](const LikelyChance& one) {
        to.time(one.at_s);
        to.number(std::llround(score_steps * one.score));
    });
    return std::move(to.bytes);
}

std::optional<FilmMarks> unpacked(std::span<const std::byte> bytes) {
    try {
        TimeReader from(bytes);
        if (from.number() != edition) return std::nullopt;
        FilmMarks marks;
        marks.whole = from.number() == 1;
        marks.until_s = from.time();
        from.list(marks.cuts_s, [&] { return from.time(); });
        for (auto* stretches : {&marks.net_in_view, &marks.whistles, &marks.loud, &marks.still}) {
            from.list(*stretches, [&] {
                const double first_s = from.time();
                return Stretch{first_s, from.time()};
            });
        }
        from.list(marks.chances, [&] {
            const double at_s = from.time();
            return LikelyChance{at_s, std::clamp(static_cast<double>(from.number()) / score_steps, 0.0, 1.0)};
        });
        if (from.left() != 0) return std::nullopt;
        return marks;
    } catch (const NumberReader::Damaged&) {
        return std::nullopt;
    }
}

} // namespace ropeline
