package main

import (
	"os"
	"regexp"

	"github.com/rogpeppe/go-internal/testscript"
)

var fingerprintIn = regexp.MustCompile(`fingerprint: 1-([0-9a-f]{4})`)

// forge FILE changes the first fingerprint of a file.
func forge(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 1 {
		ts.Fatalf("usage: forge FILE")
	}
	text := ts.ReadFile(args[0])
	at := fingerprintIn.FindStringSubmatchIndex(text)
	if at == nil {
		ts.Fatalf("%s has no fingerprint", args[0])
	}
	forged := "0000"
	if text[at[2]:at[3]] == forged {
		forged = "1111"
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text[:at[2]]+forged+text[at[3]:]), 0o666))
}
