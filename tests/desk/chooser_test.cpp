// The chooser of files without a window: what is typed, what is shown, what Enter and Tab do.
#include "desk/state/chooser.h"
#include "desk/state/detached_work.h"

#include "desk/made_book.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <stdexcept>
#include <thread>

using namespace ropeline;

namespace {

/// A home with some films, seasons and folders in it.
struct FilmsAtHome {
    test::Folder folder;
    FilmsAtHome() {
        setenv("HOME", folder.path.c_str(), 1);
        std::filesystem::create_directories(folder.path / "Videos" / "Away games");
        std::filesystem::create_directories(folder.path / ".hidden");
        for (const char* name : {"u16.season", "Videos/game 1.mp4", "Videos/Game 2.MOV", "Videos/list.csv",
                                 "Videos/words.txt", "Videos/.part.mp4"})
            std::ofstream(folder.path / name) << "some bytes";
    }
};

Chooser chooser_at(ChooserFor what, const std::string& typed) {
    Chooser chooser = begin_chooser(what, "");
    type_anew(chooser, typed);
    chooser.listing = list_folder(typed_folder(chooser));
    return chooser;
}

std::vector<std::string> shown_names(const Chooser& chooser) {
    std::vector<std::string> all;
    for (const FolderEntry& entry : shown_entries(chooser))
        all.push_back(entry.name);
    return all;
}

using Names = std::vector<std::string>;

} // namespace

TEST_CASE(
    "a typed ~ is the home folder, quotes of a copied path are left out, and the eye sees the ~ again") {
    CHECK(spelled_out("~/Videos/a b.mp4", "/home/coach") == "/home/coach/Videos/a b.mp4");
    CHECK(spelled_out("~", "/home/coach") == "/home/coach");
    CHECK(spelled_out(" '/media/stick/a b.mp4'\n", "/home/coach") == "/media/stick/a b.mp4");
    CHECK(spelled_out("\"/a\"", "/home/coach") == "/a");
    CHECK(spelled_out("~friend/a", "/home/coach") == "~friend/a");
    CHECK(spelled_out("", "/home/coach").empty());
    CHECK(shown_place("/home/coach/Videos", "/home/coach") == "~/Videos");
    CHECK(shown_place("/home/coach", "/home/coach") == "~");
    CHECK(shown_place("/home/coaches/a", "/home/coach") == "/home/coaches/a");
}

TEST_CASE(
    "drives are the mounts where people plug them in, with their spaces: fstab(5) writes them as \\040") {
    const auto drives = drives_in("/dev/sda1 / ext4 rw 0 0\nproc /proc proc rw 0 0\n"
                                  "/dev/sdb1 /media/coach/GAME\\040FILM vfat rw 0 0\n"
                                  "/dev/sdc1 /run/media/coach/stick exfat rw 0 0\nbroken\n");
    REQUIRE(drives.size() == 2);
    CHECK(drives[0].name == "GAME FILM");
    CHECK(drives[0].folder == "/media/coach/GAME FILM");
    CHECK(drives[1].name == "stick");
}

TEST_CASE("shown are folders, then what can be chosen; what is typed narrows it, capitals or not") {
    const FilmsAtHome home;
    CHECK(shown_names(chooser_at(ChooserFor::new_film, "~/Videos/")) ==
          Names{"Away games", "game 1.mp4", "Game 2.MOV"});
    CHECK(shown_names(chooser_at(ChooserFor::film_or_list, "~/Videos/")) ==
          Names{"Away games", "game 1.mp4", "Game 2.MOV", "list.csv"});
    CHECK(shown_names(chooser_at(ChooserFor::new_film, "~/Videos/GA")) == Names{"game 1.mp4", "Game 2.MOV"});
    CHECK(shown_names(chooser_at(ChooserFor::season, "~/")) == Names{"Videos", "u16.season"});
    CHECK(shown_names(chooser_at(ChooserFor::new_film, "~/Videos/.")) == Names{".part.mp4"});
    Chooser every = chooser_at(ChooserFor::new_film, "~/Videos/");
    every.every_file = true;
    CHECK(shown_names(every).size() == 5);
}

TEST_CASE("a listing of another folder is never shown for the one that is typed") {
    const FilmsAtHome home;
    Chooser chooser = chooser_at(ChooserFor::new_film, "~/Videos/");
    type_anew(chooser, "~/Vid");
    CHECK(shown_names(chooser).empty());
}

TEST_CASE("Tab types on as far as the names agree, and enters a folder that is the only one") {
    const FilmsAtHome home;
    Chooser chooser = chooser_at(ChooserFor::new_film, "~/Vi");
    complete(chooser);
    CHECK(chooser.typed == "~/Videos/");
    chooser = chooser_at(ChooserFor::new_film, "~/Videos/g");
    complete(chooser);
    CHECK(chooser.typed == "~/Videos/game ");
    chooser = chooser_at(ChooserFor::new_film, "~/Videos/game 1");
    complete(chooser);
    CHECK(chooser.typed == "~/Videos/game 1.mp4");
    chooser = chooser_at(ChooserFor::new_film, "~/Videos/nobody");
    complete(chooser);
    CHECK(chooser.typed == "~/Videos/nobody");
}

TEST_CASE("Enter goes into a folder and gives a file; without either it says so at the field") {
    const FilmsAtHome home;
    Chooser chooser = chooser_at(ChooserFor::new_film, "~/Vid");
    CHECK_FALSE(entered(chooser));
    CHECK(chooser.typed == "~/Videos/");
    chooser.listing = list_folder(typed_folder(chooser));
    pick_by(chooser, 1);
    pick_by(chooser, 1);
    CHECK(entered(chooser) == home.folder.path / "Videos" / "game 1.mp4");

    chooser = chooser_at(ChooserFor::new_film, "~/Videos/other.mp4");
    CHECK_FALSE(entered(chooser));
    CHECK(chooser.trouble == "No file here begins with \"other.mp4\".");
    chooser = chooser_at(ChooserFor::new_film, "~/Videos/");
    CHECK_FALSE(entered(chooser));
    CHECK_FALSE(chooser.trouble.empty());
    type_anew(chooser, "~/Videos/g");
    CHECK(chooser.trouble.empty());
    chooser = chooser_at(ChooserFor::new_film, "~/Videos/Away games/..");
    CHECK_FALSE(entered(chooser));
    CHECK(chooser.typed == "~/Videos/");
}

TEST_CASE("a file beyond what is listed yet can be typed whole") {
    const FilmsAtHome home;
    Chooser chooser = begin_chooser(ChooserFor::new_film, "");
    type_anew(chooser, "/media/slow drive/game.mp4");
    CHECK(entered(chooser) == std::filesystem::path("/media/slow drive/game.mp4"));
}

TEST_CASE("what is typed without a folder before it lies in the home folder, where the list shows it") {
    const FilmsAtHome home;
    CHECK(typed_folder(chooser_at(ChooserFor::new_film, "Videos/game 1.mp4")) == home.folder.path / "Videos");
    Chooser chooser = chooser_at(ChooserFor::new_season, "U16");
    CHECK(entered(chooser) == home.folder.path / "U16");
    type_anew(chooser, "Videos/U16");
    CHECK(entered(chooser) == home.folder.path / "Videos" / "U16");
}

TEST_CASE("a place for a new season keeps its name from folder to folder") {
    const FilmsAtHome home;
    Chooser chooser = begin_chooser(ChooserFor::new_season, "~/Ropeline/U16.season");
    CHECK(typed_beginning(chooser) == "U16.season");
    go_into(chooser, home.folder.path / "Videos");
    CHECK(chooser.typed == "~/Videos/U16.season");
    chooser.listing = list_folder(typed_folder(chooser));
    CHECK(shown_names(chooser) == Names{"Away games"});
    CHECK(entered(chooser) == home.folder.path / "Videos" / "U16.season");
    go_up(chooser);
    CHECK(chooser.typed == "~/U16.season");
}

TEST_CASE("a folder that is not there, or may not be read, says so and nothing is thrown") {
    const FilmsAtHome home;
    CHECK(list_folder(home.folder.path / "none").why == "There is no such folder.");
    CHECK(list_folder(home.folder.path / "u16.season").why.find("cannot be read") != std::string::npos);
    CHECK(list_folder(home.folder.path).why.empty());
}

TEST_CASE("the answer of detached work is taken once; work that fails answers with nothing, work let go of "
          "harms nobody") {
    const auto awaited = [](auto& work) {
        for (int waited = 0; waited < 5000; ++waited) {
            if (auto answer = take_answer(work)) return answer;
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
        return decltype(take_answer(work)){};
    };
    std::optional<DetachedWork<std::string>> work{std::in_place, [] { return std::string{"found"}; }};
    CHECK(awaited(work) == "found");
    CHECK_FALSE(work);
    work.emplace([]() -> std::string { throw std::runtime_error("no"); });
    CHECK(awaited(work) == "");
    work.emplace([] {
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
        return std::string{"late"};
    });
    work.reset();
}
