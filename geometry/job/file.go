package job

import (
	"errors"
	"io/fs"
	"syscall"
)

// machineWords puts what the machine said into plain words, without a full stop.
func machineWords(err error) string {
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "the disk is full"
	case errors.Is(err, syscall.EFBIG):
		return "the file may not grow that large here"
	case errors.Is(err, syscall.EROFS):
		return "the disk or folder is read-only"
	case errors.Is(err, fs.ErrPermission):
		return "this user may not use that file or folder"
	case errors.Is(err, syscall.ENOTDIR):
		return "part of its path is a file, not a folder"
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, syscall.EISDIR):
		return "it is a folder, not a file"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "its name is too long"
	case errors.Is(err, syscall.EIO):
		return "the disk reports an error"
	}
	return err.Error()
}
