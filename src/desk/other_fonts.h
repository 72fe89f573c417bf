// Installed faces for letters that the desk's own face lacks, found through fontconfig.
#pragma once

#include "desk/state/letters.h"

#include <imgui.h>

#include <string>
#include <vector>

namespace ropeline {

struct OtherFace {
    std::string path;
    int face = 0;                ///< of those in the file
    std::vector<ImWchar> ranges; ///< from and to of each letter, 0 at the end, as ImGui takes them
};

/// Few faces for all the letters; those that no installed face has, and those beyond 16 bits, are left out.
std::vector<OtherFace> faces_for(const Letters& letters);

} // namespace ropeline
