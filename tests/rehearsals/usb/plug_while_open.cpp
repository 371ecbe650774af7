#include "media/usb/usb_tree.h"
#include <chrono>
#include <csignal>
#include <cstdio>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

// Plays a rehearsal while sticks of a simulated USB tree come and go, as its pictures ask for: each picture
// named here is taken when the window stands as it should, and what follows it happens then. Run it under
// umockdev-wrapper: PROGRAM SCRIPT OUT.

namespace {

namespace fs = std::filesystem;

/// What happens once a picture is there.
struct Turn {
    char const* picture;
    int port;
    bool plug;
};
constexpr Turn turns[] = {{"usb-none.png", 2, true},
                          {"usb-plugged.png", 2, false},
                          {"usb-pulled.png", 3, true},
                          {"usb-other-port.png", 3, false}};

pid_t start(char const* program, char const* script, fs::path const& out)
{
    pid_t const child = fork();
    if (child == 0) {
        execl(program, program, "rehearse", script, "--out", out.c_str(), "--offscreen", nullptr);
        std::perror(program);
        _exit(127);
    }
    return child;
}

/// Whether the program ended; its code is in `code` then.
bool ended(pid_t child, int& code)
{
    int status = 0;
    if (waitpid(child, &status, WNOHANG) != child)
        return false;
    code = WIFEXITED(status) ? WEXITSTATUS(status) : 128;
    return true;
}

} // namespace

int main(int argc, char** argv)
{
    if (argc != 4) {
        std::fprintf(stderr, "usage: plug_while_open PROGRAM SCRIPT OUT\n");
        return 2;
    }
    fs::path const out = argv[3];
    fs::remove_all(out);
    fs::create_directories(out);
    isochore::test::UsbTree tree; // before the program starts: it inherits where the tree is
    pid_t const child = start(argv[1], argv[2], out);
    int code = 0;
    for (auto const& turn : turns)
        for (bool waiting = true; waiting;) {
            if (ended(child, code)) {
                std::fprintf(stderr, "the rehearsal ended before %s\n", turn.picture);
                return code == 0 ? 1 : code;
            }
            if (fs::exists(out / turn.picture)) {
                if (turn.plug)
                    tree.plug(turn.port, "08", true);
                else
                    tree.unplug(turn.port, true);
                waiting = false;
            }
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        }
    while (!ended(child, code))
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    return code;
}
