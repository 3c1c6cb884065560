//go:build !unix

package site

import "time"

var began = time.Now()

func processorTime() time.Duration { return time.Since(began) }
