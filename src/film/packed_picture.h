// A picture kept small while it waits to be shown. Only for src/film.
#pragma once

#include <memory>
#include <new>
#include <sys/mman.h>
#include <vector>

#include "film/picture.h"
#include "film/picture_memory.h"

namespace ropeline {

/// Megabytes straight from the system and back to it: packed pictures come and go in all sizes, and would
/// leave the heap full of gaps.
template <class T>
struct SystemMemory {
    using value_type = T;
    SystemMemory() = default;
    template <class U>
    explicit SystemMemory(const SystemMemory<U>&) {}
    T* allocate(std::size_t count) {
        void* memory =
            mmap(nullptr, count * sizeof(T), PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
        if (memory == MAP_FAILED) throw std::bad_alloc{};
        return static_cast<T*>(memory);
    }
    void deallocate(T* memory, std::size_t count) { munmap(memory, count * sizeof(T)); }
    friend bool operator==(const SystemMemory&, const SystemMemory&) { return true; }
};

struct PackedPicture {
    Picture::Layout layout{};
    bool leans_on_next = false; ///< the picture shown after it is needed to unpack it
    int bits = 8, width_px = 0, height_px = 0;
    Pts pts;
    std::vector<Picture::Plane> shapes; ///< width, height and rows of each plane; no bytes
    std::vector<std::size_t> starts;    ///< in `packed`: of each plane's upper half, of its lower half
    std::vector<std::uint8_t, SystemMemory<std::uint8_t>> packed;
};
using PackedPtr = std::shared_ptr<const PackedPicture>;

/// Null where packing is not done: pictures with samples of two bytes, and those converted for show.
/// `next`: the picture shown after it, if that will be at hand for unpacking; it makes the packed one much
/// smaller.
PackedPtr pack(const Picture& picture, const Picture* next);
/// The picture's samples lie in `memory`. Throws std::bad_alloc.
PicturePtr unpack(const PackedPicture& packed, const Picture* next, PictureMemory& memory);

} // namespace ropeline
