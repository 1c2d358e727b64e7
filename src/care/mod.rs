//! Stage between plan and page: the home-care passages this plan needs, each with its reason.
