// Command axlesheet computes what the window shows, without a window: findings, sweeps, gaps, limits and charts of a job file.
package main

import (
	"os"

	"axleloft/app/headless"
)

func main() {
	os.Exit(headless.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
