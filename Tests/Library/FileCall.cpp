// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileCall.h"

#include <fcntl.h>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <sys/syscall.h>
#include <sys/uio.h>
#include <sys/user.h>

namespace couplet::tests {

#if defined(__x86_64__)
namespace {

using Kind = FileCall::Kind;
namespace fs = std::filesystem;

std::string bytesAt(pid_t process, unsigned long long address, std::size_t count)
{
    std::string bytes(count, '\0');
    iovec here{bytes.data(), count};
    iovec there{reinterpret_cast<void*>(address), count}; // NOLINT(performance-no-int-to-ptr): of another process
    const auto got = ::process_vm_readv(process, &here, 1, &there, 1, 0);
    if (got < 0)
        throw std::runtime_error("the process's memory could not be read");
    bytes.resize(static_cast<std::size_t>(got));
    return bytes;
}

std::string textAt(pid_t process, unsigned long long address)
{
    std::string text;
    constexpr std::size_t piece = 64; // never beyond the page in which the text ends
    while (text.find('\0') == std::string::npos) {
        const auto left = piece - address % piece;
        text += bytesAt(process, address, left);
        address += left;
    }
    return text.substr(0, text.find('\0'));
}

// A path as the process means it: from the folder of a descriptor, or from its own.
std::string pathAt(pid_t process, long long folder, unsigned long long address)
{
    const fs::path path = textAt(process, address);
    if (path.is_absolute())
        return path.lexically_normal().string();
    const auto base =
        static_cast<int>(folder) == AT_FDCWD ? std::string("cwd") : "fd/" + std::to_string(static_cast<int>(folder));
    std::error_code error;
    const auto from = fs::read_symlink("/proc/" + std::to_string(process) + "/" + base, error);
    return (from / path).lexically_normal().string();
}

} // namespace

std::optional<FileCall> fileCallAt(pid_t process, const user_regs_struct& r)
{
    const auto file = static_cast<int>(r.rdi);
    const auto cwd = static_cast<unsigned long long>(AT_FDCWD);
    const auto path = [&](unsigned long long folder, unsigned long long address) {
        return pathAt(process, static_cast<long long>(folder), address);
    };
    switch (static_cast<long>(r.orig_rax)) {
    case SYS_open:
        return FileCall{Kind::open, -1, path(cwd, r.rdi), "", static_cast<int>(r.rsi), "", {}, 0};
    case SYS_openat:
        return FileCall{Kind::open, -1, path(r.rdi, r.rsi), "", static_cast<int>(r.rdx), "", {}, 0};
    case SYS_write:
        return FileCall{Kind::write, file, "", "", 0, bytesAt(process, r.rsi, r.rdx), {}, 0};
    case SYS_pwrite64:
        return FileCall{Kind::write, file, "", "", 0, bytesAt(process, r.rsi, r.rdx), static_cast<long>(r.r10), 0};
    case SYS_ftruncate:
        return FileCall{Kind::cut, file, "", "", 0, "", static_cast<long>(r.rsi), 0};
    case SYS_fsync:
    case SYS_fdatasync:
        return FileCall{Kind::sync, file, "", "", 0, "", {}, 0};
    case SYS_close:
        return FileCall{Kind::close, file, "", "", 0, "", {}, 0};
    case SYS_rename:
        return FileCall{Kind::rename, -1, path(cwd, r.rdi), path(cwd, r.rsi), 0, "", {}, 0};
    case SYS_renameat:
        return FileCall{Kind::rename, -1, path(r.rdi, r.rsi), path(r.rdx, r.r10), 0, "", {}, 0};
    case SYS_link:
        return FileCall{Kind::link, -1, path(cwd, r.rdi), path(cwd, r.rsi), 0, "", {}, 0};
    case SYS_linkat:
        return FileCall{Kind::link, -1, path(r.rdi, r.rsi), path(r.rdx, r.r10), 0, "", {}, 0};
    case SYS_unlink:
        return FileCall{Kind::unlink, -1, path(cwd, r.rdi), "", 0, "", {}, 0};
    case SYS_unlinkat:
        return FileCall{
            (r.rdx & AT_REMOVEDIR) != 0 ? Kind::removeFolder : Kind::unlink, -1, path(r.rdi, r.rsi), "", 0, "", {}, 0};
    case SYS_rmdir:
        return FileCall{Kind::removeFolder, -1, path(cwd, r.rdi), "", 0, "", {}, 0};
    case SYS_mkdir:
        return FileCall{Kind::makeFolder, -1, path(cwd, r.rdi), "", 0, "", {}, 0};
    case SYS_mkdirat:
        return FileCall{Kind::makeFolder, -1, path(r.rdi, r.rsi), "", 0, "", {}, 0};
    case SYS_truncate:
    case SYS_creat:
    case SYS_writev:
    case SYS_pwritev:
    case SYS_pwritev2:
    case SYS_renameat2:
    case SYS_symlink:
    case SYS_symlinkat:
    case SYS_fallocate:
    case SYS_copy_file_range:
    case SYS_sendfile:
    case SYS_sync:
    case SYS_syncfs:
    case SYS_msync:
    case SYS_mknod:
    case SYS_mknodat:
        throw std::runtime_error("a call that changes files is not known to the test: number " +
                                 std::to_string(r.orig_rax));
    default:
        return std::nullopt;
    }
}

#endif

} // namespace couplet::tests
