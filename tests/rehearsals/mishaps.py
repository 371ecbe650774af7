"""What befalls the store of a rehearsal: a disk that fills up or goes read-only, lost and altered files, another
program that has the lock. Each is really done to the files, none is pretended to the program."""
import fcntl
import os
import pathlib
import re
import sqlite3
import subprocess
import threading
import time

MISHAPS = ("the disk is full", "the disk has room again", "the disk goes read-only", "the disk is mended",
           "the photo is lost", "the photo is altered", "attachments cannot be written", "attachments are mended",
           "another program has the store", "the other program ends", "an entry is altered", "the journal is cut")


def names():
    return "|".join(map(re.escape, MISHAPS))


def quiet(*words):
    return subprocess.run(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0


def unmount(folder):
    if os.path.ismount(folder):
        quiet("umount", "-l", str(folder))


class Store:
    """The store of one rehearsal; with `small`, on a disk of its own of 24 MB that can be filled and broken."""

    def __init__(self, out, small):
        self.out, self.folder, self.image = out, out / "store", out / "disk.image"
        self.small, self.usable, self.lock, self.stop = small, True, None, threading.Event()
        self.watchers = []

    def __enter__(self):
        if self.small:
            self.usable = os.geteuid() == 0 and self.make_disk()
        return self

    def __exit__(self, *_):
        self.stop.set()
        for watcher in self.watchers:
            watcher.join()
        if self.lock:
            self.lock.close()
        if self.small:
            unmount(self.folder)
            self.image.unlink(missing_ok=True)

    def make_disk(self):
        self.folder.mkdir()
        with open(self.image, "wb") as image:
            image.truncate(24 << 20)
        return quiet("mkfs.ext4", "-q", "-F", "-m", "0", str(self.image)) and self.mount()

    def mount(self):
        return quiet("mount", "-o", "loop,errors=remount-ro", str(self.image), str(self.folder))

    def watch(self, meanwhile):
        for picture, mishap in meanwhile:
            watcher = threading.Thread(target=self.wait_for, args=(self.out / picture, mishap))
            watcher.start()
            self.watchers.append(watcher)

    def wait_for(self, picture, mishap):
        while not self.stop.is_set():
            if picture.exists():
                self.befall(mishap)
                return
            time.sleep(0.02)

    def befall(self, mishap):
        print(mishap, flush=True)
        getattr(self, mishap.replace(" ", "_").replace("-", "_"))()

    # The disk.
    def the_disk_is_full(self):
        with open(self.folder / "other.data", "wb", buffering=0) as data:
            for size in (1 << 16, 512):
                try:
                    while True:
                        data.write(b"\x5a" * size)
                        os.fsync(data.fileno())
                except OSError:
                    pass

    def the_disk_has_room_again(self):
        (self.folder / "other.data").unlink()

    def the_disk_goes_read_only(self):
        """As the system does when it finds a fault on it."""
        device = subprocess.run(["findmnt", "-no", "SOURCE", str(self.folder)], capture_output=True, text=True)
        name = pathlib.Path(device.stdout.strip()).name
        pathlib.Path(f"/sys/fs/ext4/{name}/trigger_fs_error").write_text("1")
        deadline = time.time() + 10
        while time.time() < deadline:
            try:
                (self.folder / "probe").write_text("x")
                time.sleep(0.02)
            except OSError:
                return
        raise SystemExit("the disk did not go read-only")

    def the_disk_is_mended(self):
        unmount(self.folder)
        quiet("e2fsck", "-fy", str(self.image))
        if not self.mount():
            raise SystemExit("the mended disk cannot be mounted")
        (self.folder / "probe").unlink(missing_ok=True)

    # Files beside the journal.
    def photo(self):
        (photo,) = (self.folder / "attachments").iterdir()
        return photo

    def the_photo_is_lost(self):
        self.photo().unlink()

    def the_photo_is_altered(self):
        bytes_ = bytearray(self.photo().read_bytes())
        bytes_[len(bytes_) // 2] ^= 1
        self.photo().write_bytes(bytes_)

    def attachments_cannot_be_written(self):
        """A file stands where the folder would be made: root is stopped by it as well."""
        (self.folder / "attachments").write_text("no folder")

    def attachments_are_mended(self):
        (self.folder / "attachments").unlink()

    # The journal.
    def another_program_has_the_store(self):
        self.lock = open(self.folder / "journal.lock", "r+b")
        fcntl.flock(self.lock, fcntl.LOCK_EX)

    def the_other_program_ends(self):
        self.lock.close()
        self.lock = None

    def an_entry_is_altered(self):
        """One byte in the middle of a stored entry, in the file itself as a failing disk would do it."""
        with sqlite3.connect(self.folder / "journal.db") as database:
            (body,) = database.execute("SELECT body FROM entry WHERE body LIKE '%131.4 V%'").fetchone()
        database.close()
        file = self.folder / "journal.db"
        bytes_ = bytearray(file.read_bytes())
        at = bytes_.index(body.encode()) + body.index("131.4 V")
        bytes_[at:at + 5] = b"131.5"
        file.write_bytes(bytes_)

    def the_journal_is_cut(self):
        file = self.folder / "journal.db"
        with open(file, "r+b") as journal:
            journal.truncate(file.stat().st_size // 2)
