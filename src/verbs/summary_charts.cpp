#include "reel/scene_picture.h"
#include "verbs/summary.h"

namespace ropeline {

void add_summary(CLI::App& app, Job& chosen) {
    add_summary_verb(app, chosen, write_chart_files);
}

} // namespace ropeline
