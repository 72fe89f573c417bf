#include "chances/packed_marks.h"

#include <cmath>
#include <cstdint>

namespace ropeline {

namespace {

constexpr std::uint64_t edition = 1; ///< of the bytes and of what finds the marks
constexpr double step_s = 0.05;

std::int64_t steps_of(double at_s) {
    return std::llround(at_s / step_s);
}

class Writer {
public:
    void number(std::uint64_t value) {
        for (; value >= 0x80; value >>= 7)
            bytes.push_back(static_cast<std::byte>((value & 0x7F) | 0x80));
        bytes.push_back(static_cast<std::byte>(value));
    }
    /// Times of a list grow, but for a film whose time begins below 0.
    void time(double at_s) {
        const std::int64_t steps = steps_of(at_s), way = steps - before_;
        before_ = steps;
        number(way < 0 ? static_cast<std::uint64_t>(-way) * 2 - 1 : static_cast<std::uint64_t>(way) * 2);
    }
    template <class Mark>
    void list(const std::vector<Mark>& marks, const auto& write_one) {
        before_ = 0;
        number(marks.size());
        for (const Mark& mark : marks)
            write_one(mark);
    }
    std::vector<std::byte> bytes;

private:
    std::int64_t before_ = 0;
};

/// Once anything is missing all that follows is nothing.
class Reader {
public:
    explicit Reader(std::span<const std::byte> bytes) : bytes_(bytes) {}
    std::uint64_t number() {
        std::uint64_t value = 0;
        for (int shift = 0; shift < 63; shift += 7) {
            if (at_ >= bytes_.size()) break;
            const auto byte = std::to_integer<std::uint64_t>(bytes_[at_++]);
            value |= (byte & 0x7F) << shift;
            if (byte < 0x80) return value;
        }
        good_ = false;
        return 0;
    }
    double time() {
        const std::uint64_t value = number();
        const auto half = static_cast<std::int64_t>((value + 1) / 2);
        constexpr std::int64_t furthest = std::int64_t{1} << 50;
        before_ += value % 2 == 1 ? -half : half;
        if (before_ > furthest || before_ < -furthest) good_ = false, before_ = 0;
        return step_s * static_cast<double>(before_);
    }
    template <class Mark>
    void list(std::vector<Mark>& marks, const auto& read_one) {
        before_ = 0;
        const std::uint64_t count = number();
        for (std::uint64_t i = 0; i < count && good_; ++i)
            marks.push_back(read_one());
    }
    bool good() const { return good_; }
    bool at_end() const { return at_ == bytes_.size(); }

private:
    std::span<const std::byte> bytes_;
    std::size_t at_ = 0;
    std::int64_t before_ = 0;
    bool good_ = true;
};

constexpr double score_steps = 100.0;

} // namespace

std::vector<std::byte> packed(const FilmMarks& marks) {
    Writer to;
    to.number(edition);
    to.number(marks.whole ? 1 : 0);
    to.time(marks.until_s);
    const auto stretch = [&](const Stretch& one) { to.time(one.first_s), to.time(one.last_s); };
    to.list(marks.cuts_s, [&](double at_s) { to.time(at_s); });
    for (const auto* stretches : {&marks.net_in_view, &marks.whistles, &marks.loud, &marks.still})
        to.list(*stretches, stretch);
    to.list(marks.chances, [&](const LikelyChance& one) {
        to.time(one.at_s);
        to.number(static_cast<std::uint64_t>(std::lround(score_steps * one.score)));
    });
    return std::move(to.bytes);
}

std::optional<FilmMarks> unpacked(std::span<const std::byte> bytes) {
    Reader from(bytes);
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
        return LikelyChance{at_s, static_cast<double>(from.number()) / score_steps};
    });
    if (!from.good() || !from.at_end()) return std::nullopt;
    return marks;
}

} // namespace ropeline
