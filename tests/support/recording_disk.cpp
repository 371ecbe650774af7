#include "support/recording_disk.h"
#include "disk/words.h"
#include <algorithm>
#include <cerrno>

namespace isochore::test {
namespace {

std::string key_of(disk::Path const& path)
{
    std::string key = std::filesystem::absolute(path).lexically_normal().string();
    while (key.size() > 1 && key.back() == '/')
        key.pop_back();
    return key;
}

std::string parent_of(std::string const& key)
{
    return disk::Path(key).parent_path().string();
}

tl::unexpected<Error> failed(int number, char const* doing, disk::Path const& path)
{
    return tl::unexpected<Error>(disk::system_error(number, doing, path));
}

} // namespace

RecordingDisk::RecordingDisk()
{
    m_names["/"] = directory_node;
    settle();
}

RecordingDisk::Node RecordingDisk::find(Path const& path) const
{
    auto const at = m_names.find(key_of(path));
    return at == m_names.end() ? 0 : at->second;
}

Result<void> RecordingDisk::create(Path const& file, std::string_view bytes)
{
    if (find(file) != 0)
        return failed(EEXIST, "create", file);
    if (find(file.parent_path()) != directory_node)
        return failed(ENOENT, "create", file);
    write_at(open_or_create(file), 0, bytes);
    return {};
}

Result<void> RecordingDisk::flush_file(Path const& file)
{
    Node const node = find(file);
    if (node <= 0)
        return failed(ENOENT, "flush", file);
    flush_node(node);
    return {};
}

Result<void> RecordingDisk::flush_directory(Path const& directory)
{
    if (find(directory) != directory_node)
        return failed(ENOENT, "flush", directory);
    record({.kind = Operation::Kind::flush_directory, .path = key_of(directory)});
    return {};
}

Result<void> RecordingDisk::rename(Path const& from, Path const& to)
{
    Node const node = find(from);
    if (node == 0)
        return failed(ENOENT, "rename to", from);
    if (find(to) != 0)
        return failed(EEXIST, "rename to", to);
    m_names[key_of(to)] = node;
    m_names.erase(key_of(from));
    record({.kind = Operation::Kind::link, .node = node, .path = key_of(to), .with_next = true});
    record({.kind = Operation::Kind::unlink, .path = key_of(from)});
    return {};
}

Result<void> RecordingDisk::remove(Path const& file)
{
    if (find(file) <= 0)
        return failed(ENOENT, "remove", file);
    m_names.erase(key_of(file));
    record({.kind = Operation::Kind::unlink, .path = key_of(file)});
    return {};
}

Result<void> RecordingDisk::make_directory(Path const& directory)
{
    Node const node = find(directory);
    if (node == directory_node)
        return {};
    if (node != 0)
        return failed(EEXIST, "make the folder", directory);
    if (find(directory.parent_path()) != directory_node)
        return failed(ENOENT, "make the folder", directory);
    m_names[key_of(directory)] = directory_node;
    record({.kind = Operation::Kind::link, .node = directory_node, .path = key_of(directory)});
    return {};
}

Result<void> RecordingDisk::remove_directory(Path const& directory)
{
    if (find(directory) != directory_node)
        return failed(ENOENT, "remove the folder", directory);
    if (auto const items = list(directory); items && !items->empty())
        return failed(ENOTEMPTY, "remove the folder", directory);
    m_names.erase(key_of(directory));
    record({.kind = Operation::Kind::unlink, .path = key_of(directory)});
    return {};
}

Result<std::string> RecordingDisk::read(Path const& file, std::size_t limit)
{
    Node const node = find(file);
    if (node <= 0)
        return failed(node == 0 ? ENOENT : EISDIR, "read", file);
    if (bytes(node).size() > limit)
        return failed(EFBIG, "read", file);
    return bytes(node);
}

Result<std::string> RecordingDisk::read_uncached(Path const& file, std::size_t limit)
{
    return read(file, limit);
}

Result<std::vector<disk::Disk::Item>> RecordingDisk::list(Path const& directory)
{
    if (find(directory) != directory_node)
        return failed(ENOENT, "list", directory);
    std::string const key = key_of(directory);
    std::vector<Item> items;
    for (auto const& [path, node] : m_names)
        if (path != key && parent_of(path) == key)
            items.push_back({Path(path).filename().string(), node == directory_node, node != directory_node,
                             node == directory_node ? 0 : bytes(node).size()});
    std::sort(items.begin(), items.end(), [](Item const& a, Item const& b) { return a.name < b.name; });
    return items;
}

bool RecordingDisk::exists(Path const& path)
{
    return find(path) != 0;
}

void RecordingDisk::confirm(std::string promise)
{
    record({.kind = Operation::Kind::confirm, .bytes = std::move(promise)});
}

void RecordingDisk::settle()
{
    m_start_names = m_names;
    m_start_nodes = m_nodes;
    m_operations.clear();
}

RecordingDisk::Node RecordingDisk::open_or_create(Path const& file)
{
    if (Node const node = find(file); node != 0)
        return node;
    Node const node = m_next_node++;
    m_nodes[node];
    m_names[key_of(file)] = node;
    record({.kind = Operation::Kind::link, .node = node, .path = key_of(file)});
    return node;
}

void RecordingDisk::write_at(Node node, std::size_t offset, std::string_view bytes)
{
    std::string& content = m_nodes.at(node);
    if (content.size() < offset + bytes.size())
        content.resize(offset + bytes.size(), '\0');
    content.replace(offset, bytes.size(), bytes);
    record({.kind = Operation::Kind::write, .node = node, .offset = offset, .bytes = std::string(bytes)});
}

void RecordingDisk::truncate(Node node, std::size_t size)
{
    m_nodes.at(node).resize(size, '\0');
    record({.kind = Operation::Kind::truncate, .node = node, .offset = size});
}

void RecordingDisk::flush_node(Node node)
{
    record({.kind = Operation::Kind::flush_node, .node = node});
}

std::map<std::string, std::string> RecordingDisk::contents() const
{
    std::map<std::string, std::string> out;
    for (auto const& [path, node] : m_names)
        if (node != directory_node)
            out[path] = bytes(node);
    return out;
}

} // namespace isochore::test
