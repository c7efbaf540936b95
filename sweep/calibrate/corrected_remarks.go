package calibrate

import "fmt"

const (
	// after is how long a climb goes on after the highest temperature [s]: CS 22.1047.
	after = 300.0
	// before is how near the start of a climb the aircraft must have been settled
	// [s]: windows of segments take half a minute off either (engineering judgement).
	before = 90.0
)

// remark adds what the rules ask for and the flight does not have. Both rules are
// told of: 14 CFR 23.1047 asks for the same in other words (from memory).
func (c *correcting) remark(out *Corrected) {
	if len(out.Segments) == 0 {
		out.Remarks = append(out.Remarks, "it has no climb and no settled stretch; give more of it, or readings that are nearer to each other")
	}
	if n := c.draws.failed; n > 0 {
		out.Remarks = append(out.Remarks, fmt.Sprintf("%d of %d draws of the doubtful numbers cannot be flown on the hot day; the doubt of the model is that of the others", n, c.Draws))
	}
	for i := range out.Segments {
		s := &out.Segments[i]
		if s.Kind == Climb {
			c.ofClimb(i, s, out.Segments)
		}
		for circuit, k := range s.Circuits {
			if k != nil && k.Outside > k.HotDay {
				s.Remarks = append(s.Remarks, fmt.Sprintf("%s: the air was hotter than the hot day; the correction is negative", circuitName(circuit)))
			}
		}
	}
}

// ofClimb remarks on the end and the entry of a climb.
func (c *correcting) ofClimb(i int, s *CorrectedSegment, all []CorrectedSegment) {
	settled := false
	for _, o := range all {
		settled = settled || o.Kind == Settled && o.From < s.From && o.To >= s.From-before
	}
	if !settled {
		s.Remarks = append(s.Remarks, "the temperatures were not settled (under 2 °F/min) when the climb began, as CS 22.1047 asks")
	}
	for circuit, k := range s.Circuits {
		if k == nil {
			continue
		}
		name := circuitName(circuit)
		blocks := c.blocksOf(i, circuit)
		first, last := blocks[0], blocks[len(blocks)-1]
		switch {
		case k.Time <= (first.From+first.To)/2 && len(blocks) > 1:
			s.Remarks = append(s.Remarks, name+" is highest where the climb begins and falls from there: the climb is not what made it so")
		case k.Time >= (last.From+last.To)/2 && k.Rate > 0:
			s.Remarks = append(s.Remarks, name+" is highest where the climb ends, and still rises: its highest is not known")
		case s.To-k.Time < after:
			s.Remarks = append(s.Remarks, fmt.Sprintf("%s: the climb goes on for %.0f s after the highest; CS 22.1047 asks for 5 min", name, s.To-k.Time))
		}
	}
}

// blocksOf are the readings of a circuit in a segment.
func (c *correcting) blocksOf(segment, circuit int) []Reading {
	for i := range c.spots {
		if s := &c.spots[i]; s.segment == segment && s.circuit == circuit {
			return s.blocks
		}
	}
	return nil
}
