package main

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"wythe/renderer/detail"
	"wythe/renderer/units"
	"wythe/site"
)

func (a *app) draw() *cobra.Command {
	var scale, to string
	c := &cobra.Command{
		Use:   "draw MARK",
		Short: "Draw one detail as SVG",
		Long: `Draws one detail at true size, as SVG, to the standard output or a file. Without
--scale the largest standard scale that fits the page is taken.`,
		Example: `  wythe draw F-101 > F-101.svg
  wythe draw F-101 --scale 1:4 --to F-101.svg
  wythe draw F-101 --scale '3 in = 1 ft' --to F-101.svg`,
		Args: takes("MARK"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runDraw(args[0], scale, to) },
	}
	c.Flags().StringVar(&scale, "scale", "", "the scale, such as 1:8 or '3 in = 1 ft' (default: chosen to fit)")
	c.Flags().StringVar(&to, "to", "", "the file to write (default: standard output)")
	return c
}

func (a *app) runDraw(mark, scaleWords, to string) error {
	scale, err := parseScale(scaleWords)
	if err != nil {
		return err
	}
	lib, d, err := a.detail(mark)
	if err != nil {
		return err
	}
	picture, err := lib.Draw(d, scale)
	if err != nil {
		return err
	}
	if to == "" {
		_, err := a.stdout.Write(picture)
		return err
	}
	if err := os.WriteFile(to, picture, 0o666); err != nil {
		return failf("name another file with --to", "cannot write the drawing: %v", err)
	}
	fmt.Fprintf(a.stdout, "Drew %s to %s.\n", d.Mark, to)
	return nil
}

// parseScale reads "1:8" or "1 1/2 in = 1 ft"; "" is 0, a scale chosen to fit.
func parseScale(words string) (detail.Scale, error) {
	if words == "" {
		return 0, nil
	}
	ratio := math.NaN()
	if paper, real, ok := strings.Cut(words, "="); ok {
		p, err1 := units.ParseLength(strings.TrimSpace(paper))
		r, err2 := units.ParseLength(strings.TrimSpace(real))
		if err1 == nil && err2 == nil {
			// To a thousandth, so that 3 in = 1 ft is 1:4 and no hair more.
			ratio = math.Round(float64(r/p)*1000) / 1000
		}
	} else if one, n, ok := strings.Cut(words, ":"); ok && strings.TrimSpace(one) == "1" {
		if v, err := strconv.ParseFloat(strings.TrimSpace(n), 64); err == nil {
			ratio = v
		}
	}
	if !(ratio >= 1 && ratio <= 1000) {
		return 0, usagef("write it as 1:N with N from 1 to 1000, or as the trade does: --scale 1:8, --scale '3 in = 1 ft'", "--scale %q is no scale", words)
	}
	return detail.Scale(ratio), nil
}

// detail opens the library and finds one detail in it. Findings of the
// library that are errors are printed; they stop the work only if they are in
// that detail.
func (a *app) detail(mark string) (*site.Library, *detail.Detail, error) {
	dir, err := a.library()
	if err != nil {
		return nil, nil, err
	}
	lib, err := site.Open(dir)
	if err != nil {
		return nil, nil, err
	}
	d := lib.Detail(mark)
	if d == nil {
		return nil, nil, unknownMark(mark, lib.Marks())
	}
	own := lib.ErrorsOf(d)
	if len(own.Items) > 0 {
		printFindings(a.stderr, own)
		return nil, nil, &findingsError{fmt.Sprintf("%s in %s stand in the way\n\tmend them and try again", count(len(own.Items), "error"), d.Mark)}
	}
	return lib, d, nil
}
