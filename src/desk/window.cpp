// SDL window, OpenGL 3.3 context, Dear ImGui, and the loop that turns events into commands.
#include "desk/commands.h"
#include "desk/desk.h"
#include "desk/state/key_file.h"
#include "desk/window_frame.h"

#include <SDL.h>
#include <SDL_opengl.h>
#include <backends/imgui_impl_opengl3.h>
#include <backends/imgui_impl_sdl.h>
#include <fmt/core.h>
#include <imgui_internal.h>

#include <chrono>

#include <filesystem>
#include <fstream>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string_view>
#include <tuple>
#include <utility>

namespace ropeline {

namespace {

struct QuitSdl {
    ~QuitSdl() { SDL_Quit(); }
};
struct FreeWindow {
    void operator()(SDL_Window* owned) const { SDL_DestroyWindow(owned); }
};
struct FreeContext {
    void operator()(void* owned) const { SDL_GL_DeleteContext(owned); }
};
/// Gives the film's textures back while the context they were made in still lives, whatever ends the loop.
struct TextureLife {
    App& app;
    ~TextureLife() {
        app.stage.texture.release();
        app.stage.cursor.texture.release();
        app.exports.voice.reset();
    }
};
struct ImGuiLife {
    ImGuiLife(SDL_Window* window, SDL_GLContext context) {
        IMGUI_CHECKVERSION();
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui_ImplSDL2_InitForOpenGL(window, context);
        ImGui_ImplOpenGL3_Init("#version 330 core");
    }
    ~ImGuiLife() {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplSDL2_Shutdown();
        ImGui::DestroyContext();
    }
    ImGuiLife(const ImGuiLife&) = delete;
    ImGuiLife& operator=(const ImGuiLife&) = delete;
};

[[noreturn]] void no_window(const char* what, const char* why = SDL_GetError()) {
    throw std::runtime_error(fmt::format("{} ({}). The desk needs a display with OpenGL 3.3; without one, "
                                         "`ropeline summary SEASON` prints the season here.",
                                         what, why));
}

/// The first run: text and window for the display that the window opens on.
void suit_display(Settings& settings) {
    float dots_per_inch = 0.0F;
    SDL_Rect room{};
    if (SDL_GetDisplayUsableBounds(0, &room) != 0) return;
    if (SDL_GetDisplayDPI(0, &dots_per_inch, nullptr, nullptr) != 0) dots_per_inch = 0.0F;
    const Settings suited = first_settings(dots_per_inch, room.w, room.h);
    settings.text_px = suited.text_px;
    settings.window_width = suited.window_width;
    settings.window_height = suited.window_height;
    save_settings(settings_path(), settings);
}

/// "Ctrl+Shift+Z": modifiers in this order, then SDL's name of the key.
std::string chord_of_key(const SDL_Keysym& key) {
    std::string name = SDL_GetKeyName(key.sym);
    if (name == "Keypad Enter") name = "Return";
    if (name.size() == 8 && name.starts_with("Keypad ")) name = name.substr(7);
    if (name == "Backspace") name = "Delete";
    std::string chord;
    if (key.mod & KMOD_CTRL) chord += "Ctrl+";
    if (key.mod & KMOD_ALT) chord += "Alt+";
    const bool typed_shift = name == "=" || name == "-"; // Ctrl and + means Ctrl+= on most keyboards
    if ((key.mod & KMOD_SHIFT) && !typed_shift) chord += "Shift+";
    return chord + name;
}

void press(App& app, const SDL_KeyboardEvent& event) {
    const std::string chord = chord_of_key(event.keysym);
    const bool typing = ImGui::GetIO().WantTextInput;
    const bool makes_season = chord == "Return" && place_of_keys(app) == Place::start_page;
    const bool walks_list = app.list.typing && (chord == "Up" || chord == "Down");
    const bool number = chord.size() == 1 && chord[0] >= '1' && chord[0] <= '9' && numbers_choose(app);
    if (typing && number && number_chooses(app.pages.overrule)) return choose_number(app, chord[0] - '0');
    if (typing && !walks_list && !makes_season && chord != "Escape" && !goes_past_typing(chord)) return;
    if (typing && chord == "Escape") return run_command(app, Command::put_down);
    const auto command = command_for(chord);
    if (command == Command::frame_on || command == Command::frame_back) {
        if (event.repeat != 0) return; // held: update() runs the film
        hold_step(app, *command == Command::frame_on ? 1 : -1);
    }
    if (command) {
        run_command(app, *command);
    } else if (number) {
        choose_number(app, chord[0] - '0');
    }
}

/// Whatever goes wrong in a turn ends as one notice, never as the end of the program.
template <class Work>
void told(App& app, Work work) {
    try {
        work();
    } catch (const std::exception& error) {
        tell_trouble(app, error);
    }
}

void take_event(App& app, const SDL_Event& event) {
    ImGui_ImplSDL2_ProcessEvent(&event);
    switch (event.type) {
    case SDL_QUIT:
        app.leaving = true;
        break;
    case SDL_KEYDOWN:
        told(app, [&] { press(app, event.key); });
        break;
    case SDL_KEYUP:
        if (event.key.keysym.sym == SDLK_LEFT || event.key.keysym.sym == SDLK_RIGHT)
            let_go_of_step(app.stage);
        break;
    case SDL_WINDOWEVENT:
        if (event.window.event == SDL_WINDOWEVENT_FOCUS_LOST) let_go_of_step(app.stage);
        break;
    case SDL_TEXTINPUT:
        note_letters(app.letters, event.text.text);
        break;
    case SDL_DROPFILE:
        told(app, [&] { drop_file(app, event.drop.file); });
        SDL_free(event.drop.file);
        break;
    default:
        break;
    }
}

/// What a panel that failed has left open is closed; the others are drawn in the next turn.
void draw_panels(App& app) {
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    try {
        draw_desk(app, size.x, size.y);
    } catch (const std::exception& error) {
        ImGui::ErrorCheckEndFrameRecover(nullptr);
        while (ImGui::GetCurrentContext()->FontStack.Size > 0)
            ImGui::PopFont();
        tell_trouble(app, error);
    }
}

void draw_turn(App& app, SDL_Window* window) {
    int high = 0;
    SDL_GetWindowSize(window, nullptr, &high);
    const TypeSizes type = type_sizes(static_cast<float>(high), app.settings.text_px);
    if (app.look.dark != app.settings.dark || app.look.type != type || app.look.letters != app.letters) {
        put_look(app.look, app.settings.dark, type, app.letters);
        ImGui_ImplOpenGL3_DestroyFontsTexture();
        ImGui_ImplOpenGL3_CreateFontsTexture();
    }
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplSDL2_NewFrame();
    ImGui::NewFrame();
    draw_panels(app);
    ImGui::Render();
    int width = 0;
    int height = 0;
    SDL_GL_GetDrawableSize(window, &width, &height);
    glViewport(0, 0, width, height);
    const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(app.look.colours.ground);
    glClearColor(ground.x, ground.y, ground.z, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    SDL_GL_SwapWindow(window);
}

/// Turns that have to be drawn before the next event is taken. Text fields and buttons look at what is down when
/// a turn is drawn: a press and its release must not fall into one, nor the release of Tab or Enter and the next
/// press. Those two take a turn to act and one to arrive, in the next field or out of the last one.
int turns_needed(const App& app, const SDL_Event& event) {
    if (event.type == SDL_MOUSEBUTTONDOWN || event.type == SDL_MOUSEBUTTONUP) return 1;
    if (event.type != SDL_KEYDOWN && event.type != SDL_KEYUP) return 0;
    const bool fields = ImGui::GetIO().WantTextInput || !app.log.book || any_open(app.pages) || app.chooser ||
                        app.scorer_list || app.list.find || app.exports.open || app.unite.open ||
                        (app.side == Side::study && !app.study.turn);
    if (!fields) return 0;
    const bool writes = event.key.keysym.sym >= ' ' && event.key.keysym.sym < 127;
    if (event.type == SDL_KEYUP) return writes ? 0 : 1;
    return writes ? 1 : 2;
}

/// A held key says so again and again, while the film runs by itself: drawing for that would show frames late.
bool only_held_on(const App& app, const SDL_Event& event) {
    return event.type == SDL_KEYDOWN && event.key.repeat != 0 && app.stage.step_held != 0;
}

/// A line for every turn that was presented, to see whether frames come evenly and whether anything stalls:
/// `busy_ms` is the time since the turn before, less what the loop slept waiting for something to do. "rests" follows
/// the last turn an event needed.
class Trace {
public:
    explicit Trace(const std::optional<std::filesystem::path>& path) {
        if (!path) return;
        file_.open(*path);
        if (!file_)
            throw std::runtime_error(
                fmt::format("the trace {} cannot be written: choose another place.", path->string()));
        file_ << "seconds,busy_ms,frame_shown,frame_wanted\n";
    }
    void slept(double seconds) { slept_s_ += seconds; }
    void turn(double seconds, const App& app) {
        const double busy_s = seconds - before_s_.value_or(seconds) - slept_s_;
        before_s_ = seconds;
        slept_s_ = 0.0;
        if (!file_.is_open()) return;
        file_ << fmt::format("{:.6f},{:.3f},{},{}\n", seconds, 1000.0 * busy_s,
                             app.stage.on_screen ? number(*app.stage.on_screen) : -1,
                             number(app.stage.player.frame));
        file_.flush();
        resting_ = false;
    }
    /// Everything that was done to the desk is drawn: said once after the turns it took.
    void rests() {
        if (!file_.is_open() || resting_) return;
        file_ << "rests\n";
        file_.flush();
        resting_ = true;
    }

private:
    bool resting_ = false;
    std::optional<double> before_s_;
    double slept_s_ = 0.0;
    std::ofstream file_;
};

/// Turns until the coach leaves. Sleeps while nothing moves; after an event a few turns follow, since
/// hovering and layout settle one turn later.
void loop(App& app, SDL_Window* window, Trace& trace) {
    const auto seconds_now = [] {
        return static_cast<double>(SDL_GetPerformanceCounter()) /
               static_cast<double>(SDL_GetPerformanceFrequency());
    };
    double before = seconds_now();
    int turns_to_settle = 3;
    int turns_owed = 0; // to the last event
    bool awaiting = true;
    double drawn = before;
    std::string title;
    while (!app.leaving) {
        const int patience_ms = turns_to_settle > 0 ? 0 : awaiting ? 4 : 500;
        SDL_Event event;
        const double waiting = seconds_now();
        bool happened = turns_owed == 0 && SDL_WaitEventTimeout(&event, patience_ms) != 0;
        const double now = seconds_now();
        trace.slept(now - waiting);
        told(app, [&] { pass_time(app, now - before); });
        before = now;
        while (happened) {
            take_event(app, event);
            if (!only_held_on(app, event)) turns_to_settle = 3;
            turns_owed = turns_needed(app, event);
            happened = turns_owed == 0 && SDL_PollEvent(&event) != 0;
        }
        const auto shown = [&app] {
            const FitDraft* fit = app.log.book ? app.log.state().selection.fit() : nullptr;
            return std::tuple{app.stage.on_screen,
                              app.stage.player.frame,
                              fit && fit->proposed,
                              app.stage.view.zoom,
                              app.stage.view.centre.x_px,
                              app.season.numbers,
                              app.season.saving != nullptr,
                              app.exports.voice ? app.exports.voice->on_screen : std::nullopt};
        };
        update_window_frame(window, app, title);
        const auto before_update = shown();
        const bool awaited = std::exchange(awaiting, update(app));
        // While something is awaited the processor belongs to what makes it: only progress is drawn meanwhile.
        constexpr double progress_s = 0.1;
        const bool news = turns_to_settle > 0 || before_update != shown() || (awaited && !awaiting);
        if (news || (awaiting && now - drawn > progress_s)) {
            draw_turn(app, window);
            drawn = seconds_now();
            trace.turn(seconds_now(), app);
            if (turns_owed > 0) --turns_owed;
        }
        if (turns_to_settle > 0) --turns_to_settle;
        // Only now, so that nothing drawn has to wait for the disk.
        told(app, [&] {
            if (!app.log.book || !app.log.book->start_commit()) return;
            turns_to_settle = 3;
            app.season.stale = true;
        });
        const bool works_out = app.side == Side::season && app.season.work;
        if (turns_to_settle == 0 && turns_owed == 0 && !app.stage.aim.on_its_way() && !works_out &&
            !app.season.saving)
            trace.rests();
    }
}

/// What stands open when the window appears: what was asked for, else the last season.
void open_first(App& app, const DeskOptions& options) {
    app.settings = load_settings(settings_path());
    app.start.make_practice_film = options.make_practice_film;
    for (const RecentSeason& recent : app.settings.recent)
        note_letters(app.letters, recent.name);
    const std::string about_keys = use_key_file(key_file_path());
    if (options.season) {
        open_season(app, *options.season);
    } else {
        open_last_season(app);
    }
    if (options.film) drop_file(app, *options.film);
    app.start.to_form = app.settings.recent.empty();
    if (about_keys.empty()) return;
    if (app.log.book || app.start.trouble.empty()) tell(app, about_keys, true);
}

void open_display() {
    SDL_SetHint(SDL_HINT_VIDEO_HIGHDPI_DISABLED, "0");
    if (SDL_Init(SDL_INIT_VIDEO) != 0) no_window("no window can be opened");
    // Without a display SDL falls back on drawing where nobody sees it.
    if (const std::string_view driver = SDL_GetCurrentVideoDriver();
        driver == "offscreen" || driver == "dummy")
        no_window("there is no display", "nothing would be seen");
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
}

/// Turns until the coach leaves, with everything that needs the window's graphics context.
void run_window(App& app, SDL_Window* window, SDL_GLContext context, Trace& trace) {
    const TextureLife textures{app};
    const ImGuiLife imgui{window, context};
    int high = 0;
    SDL_GetWindowSize(window, nullptr, &high);
    put_look(app.look, app.settings.dark, type_sizes(static_cast<float>(high), app.settings.text_px));
    auto drawn = std::chrono::steady_clock::now();
    app.draw_meanwhile = [&] {
        const auto now = std::chrono::steady_clock::now();
        if (now - drawn < std::chrono::milliseconds(50)) return;
        drawn = now;
        read_for_drawing(app);
        draw_turn(app, window);
    };
    loop(app, window, trace);
    app.draw_meanwhile = nullptr;
    note_where_left(app);
    note_window(window, app.settings);
    app.settings.opened_well = true; // whatever was still opening did no harm
    save_settings(settings_path(), app.settings);
}

} // namespace

void run_desk(const DeskOptions& options) {
    Trace trace{options.trace};
    App app;
    const bool first_run = !std::filesystem::exists(settings_path());
    open_first(app, options);
    const QuitSdl quit;
    open_display();
    if (first_run) suit_display(app.settings);
    const std::unique_ptr<SDL_Window, FreeWindow> window{SDL_CreateWindow(
        "Ropeline", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, app.settings.window_width,
        app.settings.window_height, SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI)};
    if (!window) no_window("no window can be opened");
    SDL_SetWindowMinimumSize(window.get(), 900, 560);
    put_icon(window.get());
    place_window(window.get(), app.settings);
    const std::unique_ptr<void, FreeContext> context{SDL_GL_CreateContext(window.get())};
    if (!context) no_window("this display has no OpenGL 3.3");
    SDL_GL_SetSwapInterval(1);
    run_window(app, window.get(), context.get(), trace);
    if (app.log.book) app.log.book->wait_for_commit();
}

} // namespace ropeline
