#include "desk/other_fonts.h"

#include <fontconfig/fontconfig.h>

#include <algorithm>
#include <memory>

namespace ropeline {

namespace {

struct FreeFontPattern {
    void operator()(FcPattern* owned) const { FcPatternDestroy(owned); }
};
struct FreeLetters {
    void operator()(FcCharSet* owned) const { FcCharSetDestroy(owned); }
};
using FontPattern = std::unique_ptr<FcPattern, FreeFontPattern>;
using LetterSet = std::unique_ptr<FcCharSet, FreeLetters>;

struct FoundFace {
    OtherFace face;
    LetterSet letters; ///< all that it has
};

std::unique_ptr<FoundFace> face_with(char32_t letter) {
    const LetterSet wanted{FcCharSetCreate()};
    const FontPattern pattern{FcPatternCreate()};
    if (!wanted || !pattern) return nullptr;
    FcCharSetAddChar(wanted.get(), letter);
    FcPatternAddString(pattern.get(), FC_FAMILY, reinterpret_cast<const FcChar8*>("sans"));
    FcPatternAddCharSet(pattern.get(), FC_CHARSET, wanted.get());
    FcPatternAddBool(pattern.get(), FC_SCALABLE, FcTrue);
    FcPatternAddBool(pattern.get(), FC_COLOR, FcFalse);
    FcConfigSubstitute(nullptr, pattern.get(), FcMatchPattern);
    FcDefaultSubstitute(pattern.get());
    FcResult result = FcResultNoMatch;
    const FontPattern found{FcFontMatch(nullptr, pattern.get(), &result)};
    FcChar8* file = nullptr;
    FcCharSet* letters = nullptr;
    int index = 0;
    if (!found || FcPatternGetString(found.get(), FC_FILE, 0, &file) != FcResultMatch ||
        FcPatternGetCharSet(found.get(), FC_CHARSET, 0, &letters) != FcResultMatch ||
        FcCharSetHasChar(letters, letter) == FcFalse)
        return nullptr;
    FcPatternGetInteger(found.get(), FC_INDEX, 0, &index);
    constexpr int face_bits = 0xFFFF; // above them stands which variation of the face
    return std::make_unique<FoundFace>(FoundFace{{reinterpret_cast<const char*>(file), index & face_bits, {}},
                                                 LetterSet{FcCharSetCopy(letters)}});
}

} // namespace

std::vector<OtherFace> faces_for(const Letters& letters) {
    std::vector<std::unique_ptr<FoundFace>> found;
    if (letters.empty() || FcInit() == FcFalse) return {};
    for (const char32_t letter : letters) {
        constexpr char32_t last_of_16_bits = 0xFFFF;
        if (letter > last_of_16_bits) continue;
        auto has_it = std::ranges::find_if(found, [letter](const std::unique_ptr<FoundFace>& one) {
            return FcCharSetHasChar(one->letters.get(), letter) != FcFalse;
        });
        if (has_it == found.end()) {
            auto face = face_with(letter);
            if (!face) continue;
            found.push_back(std::move(face));
            has_it = std::prev(found.end());
        }
        auto& ranges = (*has_it)->face.ranges;
        ranges.push_back(static_cast<ImWchar>(letter));
        ranges.push_back(static_cast<ImWchar>(letter));
    }
    std::vector<OtherFace> faces;
    for (const auto& one : found) {
        faces.push_back(std::move(one->face));
        faces.back().ranges.push_back(0);
    }
    return faces;
}

} // namespace ropeline
