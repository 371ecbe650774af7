#include "journal/attachments.h"
#include "journal/journal.h"
#include <cstdio>
#include <string>
#include <unistd.h>

// append_loop FOLDER JOB: appends entries (and now and then an attachment) until it is killed, and writes the
// hash of each to standard output once it is confirmed.
int main(int count, char** words)
{
    using namespace isochore;
    if (count != 3)
        return 2;
    auto store = journal::open_journal(words[1]);
    if (!store) {
        std::fprintf(stderr, "%s\n", store.error().detail.c_str());
        return 1;
    }
    auto const disk = disk::system_disk();
    journal::Attachments attachments(*disk, words[1]);
    for (int i = 0;; ++i) {
        std::string line;
        if (i % 4 == 3) {
            auto const hash = attachments.keep(std::string(5000, 'p') + words[2] + std::to_string(i));
            if (!hash)
                return 1;
            line = "file " + *hash + "\n";
        } else {
            auto const entry =
                (*store)->append(words[2], {{"i", i}, {"typed", std::to_string(i) + ".0 bar g"}});
            if (!entry)
                return 1;
            line = "entry " + entry->hash + "\n";
        }
        if (::write(STDOUT_FILENO, line.data(), line.size()) != static_cast<ssize_t>(line.size()))
            return 1;
    }
}
