#pragma once
#include "support/recording_disk.h"

namespace isochore::test {

/// SQLite's file layer on a RecordingDisk, so that a power cut inside SQLite's own writing can be explored.
/// It flushes folders where SQLite's own Unix layer does: at the first sync of a new log or journal and when
/// a deletion asks for it. One connection only, no shared memory.
class ModelVfs {
public:
    static char const* name(); ///< registers it on first use
    /// The disk that files opened from now on lie on.
    static void use(RecordingDisk& disk);
    /// Fails the n-th write, truncation or flush from now on (from 1; 0: none) with an SQLite result code;
    /// with `lasting` all later ones too.
    static void fail_at(int nth, int code, bool lasting);
    static int writes(); ///< counted since fail_at
};

} // namespace isochore::test
