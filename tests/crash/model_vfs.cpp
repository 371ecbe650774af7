#include "crash/model_vfs.h"
#include <algorithm>
#include <cstring>
#include <new>
#include <sqlite3.h>

namespace isochore::test {
namespace {

struct State {
    RecordingDisk* disk = nullptr;
    int writes = 0, nth = 0, code = SQLITE_OK;
    bool lasting = false;

    int due()
    {
        ++writes;
        bool const now = nth > 0 && (lasting ? writes >= nth : writes == nth);
        return now ? code : SQLITE_OK;
    }
} state;

struct File {
    sqlite3_file base;
    RecordingDisk* disk;
    RecordingDisk::Node node;
    bool flush_folder; // at the next sync
    char folder[256];
};

File& of(sqlite3_file* file)
{
    return *reinterpret_cast<File*>(file);
}

int close(sqlite3_file*)
{
    return SQLITE_OK;
}

int read(sqlite3_file* file, void* out, int amount, sqlite3_int64 offset)
{
    std::string const& bytes = of(file).disk->bytes(of(file).node);
    auto const from = std::min(static_cast<std::size_t>(offset), bytes.size());
    auto const got = std::min(static_cast<std::size_t>(amount), bytes.size() - from);
    std::memcpy(out, bytes.data() + from, got);
    std::memset(static_cast<char*>(out) + got, 0, static_cast<std::size_t>(amount) - got);
    return got == static_cast<std::size_t>(amount) ? SQLITE_OK : SQLITE_IOERR_SHORT_READ;
}

int write(sqlite3_file* file, void const* in, int amount, sqlite3_int64 offset)
{
    if (int const code = state.due(); code != SQLITE_OK)
        return code;
    of(file).disk->write_at(of(file).node, static_cast<std::size_t>(offset),
                            {static_cast<char const*>(in), static_cast<std::size_t>(amount)});
    return SQLITE_OK;
}

int truncate(sqlite3_file* file, sqlite3_int64 size)
{
    if (int const code = state.due(); code != SQLITE_OK)
        return code;
    of(file).disk->truncate(of(file).node, static_cast<std::size_t>(size));
    return SQLITE_OK;
}

int sync(sqlite3_file* file, int)
{
    if (int const code = state.due(); code != SQLITE_OK)
        return code;
    of(file).disk->flush_node(of(file).node);
    if (of(file).flush_folder && !of(file).disk->flush_directory(of(file).folder))
        return SQLITE_IOERR_DIR_FSYNC;
    of(file).flush_folder = false;
    return SQLITE_OK;
}

int size(sqlite3_file* file, sqlite3_int64* out)
{
    *out = static_cast<sqlite3_int64>(of(file).disk->bytes(of(file).node).size());
    return SQLITE_OK;
}

int lock(sqlite3_file*, int)
{
    return SQLITE_OK;
}

int reserved(sqlite3_file*, int* out)
{
    *out = 0;
    return SQLITE_OK;
}

int control(sqlite3_file*, int, void*)
{
    return SQLITE_NOTFOUND;
}
int sector(sqlite3_file*)
{
    return 4096;
}
int characteristics(sqlite3_file*)
{
    return SQLITE_IOCAP_POWERSAFE_OVERWRITE;
}

int open(sqlite3_vfs*, char const* path, sqlite3_file* file, int flags, int* flags_out)
{
    static sqlite3_io_methods const methods = [] {
        sqlite3_io_methods m{};
        m.iVersion = 1;
        m.xClose = close, m.xRead = read, m.xWrite = write, m.xTruncate = truncate, m.xSync = sync;
        m.xFileSize = size, m.xLock = lock, m.xUnlock = lock, m.xCheckReservedLock = reserved;
        m.xFileControl = control, m.xSectorSize = sector, m.xDeviceCharacteristics = characteristics;
        return m;
    }();
    file->pMethods = nullptr;
    if (!path)
        return SQLITE_CANTOPEN; // temporary files are kept in memory
    bool const is_new = !state.disk->exists(path);
    if (is_new && !(flags & SQLITE_OPEN_CREATE))
        return SQLITE_CANTOPEN;
    File* const out = new (file) File{};
    out->disk = state.disk;
    out->node = state.disk->open_or_create(path);
    out->flush_folder = (flags & SQLITE_OPEN_CREATE) &&
                        (flags & (SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL));
    std::string const folder = std::filesystem::path(path).parent_path().string();
    std::memcpy(out->folder, folder.c_str(), std::min(folder.size() + 1, sizeof out->folder));
    out->base.pMethods = &methods;
    if (flags_out)
        *flags_out = flags;
    return SQLITE_OK;
}

int remove(sqlite3_vfs*, char const* path, int flush_folder)
{
    if (!state.disk->exists(path))
        return SQLITE_IOERR_DELETE_NOENT;
    if (!state.disk->remove(path))
        return SQLITE_IOERR_DELETE;
    if (flush_folder && !state.disk->flush_directory(std::filesystem::path(path).parent_path()))
        return SQLITE_IOERR_DIR_FSYNC;
    return SQLITE_OK;
}

int access(sqlite3_vfs*, char const* path, int, int* out)
{
    *out = state.disk->exists(path);
    return SQLITE_OK;
}

int full_path(sqlite3_vfs*, char const* path, int room, char* out)
{
    sqlite3_snprintf(room, out, "%s", path);
    return SQLITE_OK;
}

int randomness(sqlite3_vfs*, int amount, char* out)
{
    static unsigned seed = 1; // the same run each time
    for (int i = 0; i < amount; ++i)
        out[i] = static_cast<char>((seed = seed * 1664525u + 1013904223u) >> 24);
    return amount;
}

int sleep(sqlite3_vfs*, int)
{
    return 0;
}

int current_time(sqlite3_vfs*, double* out)
{
    *out = 2461000.5;
    return SQLITE_OK;
}

} // namespace

char const* ModelVfs::name()
{
    static sqlite3_vfs vfs = [] {
        sqlite3_vfs v{};
        v.iVersion = 1;
        v.szOsFile = sizeof(File);
        v.mxPathname = 200;
        v.zName = "isochore-model";
        v.xOpen = open, v.xDelete = remove, v.xAccess = access, v.xFullPathname = full_path;
        v.xRandomness = randomness, v.xSleep = sleep, v.xCurrentTime = current_time;
        return v;
    }();
    static int const registered = sqlite3_vfs_register(&vfs, 0);
    return registered == SQLITE_OK ? vfs.zName : nullptr;
}

void ModelVfs::use(RecordingDisk& disk)
{
    state.disk = &disk;
}

void ModelVfs::fail_at(int nth, int code, bool lasting)
{
    state.writes = 0;
    state.nth = nth;
    state.code = code;
    state.lasting = lasting;
}

int ModelVfs::writes()
{
    return state.writes;
}

} // namespace isochore::test
