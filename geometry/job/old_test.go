package job_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// frozen is a sum over the names and bytes of the job files kept as version 1 wrote them: first as it was first written, then with every key it
// has come to have. They are history: whatever the reader becomes, they are never rewritten and must be read.
const frozen = "367f993c8e561c3970fc390ee8bffa40040f47b50bc6fbf8bd0ac0ecb670d345"

func TestOldFilesStayReadable(t *testing.T) {
	names, err := filepath.Glob("testdata/version-1/*/*.axleloft")
	require.NoError(t, err)
	require.Len(t, names, 23)
	sum := sha256.New()
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		sum.Write([]byte(filepath.ToSlash(name)))
		sum.Write(data)
		j, err := job.ReadFile(name)
		require.NoError(t, err, name)
		assert.Empty(t, job.Check(j), name)
		// What was read is not lost by writing it: written and read again it is the same job.
		var out bytes.Buffer
		require.NoError(t, job.Write(&out, j), name)
		again, err := job.Read(bytes.NewReader(out.Bytes()))
		require.NoError(t, err, name)
		again.Folder = j.Folder
		assert.Equal(t, j, again, name)
	}
	assert.Equal(t, frozen, hex.EncodeToString(sum.Sum(nil)), "the frozen files are never changed: a newer version gets a folder of its own")
}
